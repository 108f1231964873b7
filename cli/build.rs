//! Relative relocations in their packed form, where the system's loader reads them (glibc 2.36 and
//! later): they are half a megabyte of the program otherwise.

use std::env;
use std::process::Command;

fn main() {
    println!("cargo:rerun-if-changed=build.rs");
    let is = |name: &str, value: &str| env::var(name).is_ok_and(|found| found == value);
    let built_for_itself = env::var("HOST").ok() == env::var("TARGET").ok();
    if built_for_itself && is("CARGO_CFG_TARGET_OS", "linux") && is("CARGO_CFG_TARGET_ENV", "gnu") {
        let told = Command::new("getconf").arg("GNU_LIBC_VERSION").output();
        if told.is_ok_and(|told| reads_packed(&String::from_utf8_lossy(&told.stdout))) {
            println!("cargo:rustc-link-arg-bins=-Wl,-z,pack-relative-relocs");
        }
    }
}

/// Whether this is the answer of a library that reads them, such as `glibc 2.36`.
fn reads_packed(told: &str) -> bool {
    let version = told.trim().strip_prefix("glibc ").unwrap_or_default();
    let mut parts = version.split('.').map(|part| part.parse().unwrap_or(0));
    (parts.next(), parts.next()) >= (Some(2), Some(36))
}
