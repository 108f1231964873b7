//! A file while it is written: under a name of its own beside the target, locked, and gone when the
//! writing ends in any way but success.

use std::fs::{File, TryLockError};
use std::path::{Path, PathBuf};

use super::signals::{watch, with_written};

/// A file that is being written.
pub(super) struct Part {
    pub(super) file: File,
    path: PathBuf,
}

impl Part {
    /// Begins a file beside a target, whose name is given; what an ended program left there is
    /// removed.
    pub(super) fn begin_beside(target: &Path, name: &std::ffi::OsStr) -> std::io::Result<Self> {
        watch();
        remove_abandoned(target, name);
        let mut hidden = prefix(name);
        hidden.push(format!("{}.part", std::process::id()));
        let path = target.with_file_name(hidden);
        let file = File::create_new(&path)?;
        // where a file system has no locks the file counts as abandoned by nobody but its maker
        let _ = file.try_lock();
        with_written(|all| all.push(path.clone()));
        Ok(Self { file, path })
    }

    /// Gives the file its name, whole.
    pub(super) fn finish(self, target: &Path) -> std::io::Result<()> {
        self.file.sync_all()?;
        std::fs::rename(&self.path, target)
        // dropping removes nothing then: the name is gone
    }
}

impl Drop for Part {
    fn drop(&mut self) {
        // best effort: after a rename there is nothing of this name
        let _ = std::fs::remove_file(&self.path);
        with_written(|all| all.retain(|one| *one != self.path));
    }
}

fn prefix(name: &std::ffi::OsStr) -> std::ffi::OsString {
    let mut hidden = std::ffi::OsString::from(".");
    hidden.push(name);
    hidden.push(".");
    hidden
}

/// Removes what a killed program left of the same target: only files whose lock is free.
fn remove_abandoned(target: &Path, name: &std::ffi::OsStr) {
    let folder = match target.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let begins = prefix(name);
    let Ok(entries) = std::fs::read_dir(folder) else {
        return;
    };
    for entry in entries.flatten() {
        let file_name = entry.file_name();
        let own = file_name
            .as_encoded_bytes()
            .strip_prefix(begins.as_encoded_bytes())
            .and_then(|rest| rest.strip_suffix(b".part"))
            .is_some_and(|id| !id.is_empty() && id.iter().all(u8::is_ascii_digit));
        if !own {
            continue;
        }
        let Ok(file) = File::open(entry.path()) else {
            continue;
        };
        match file.try_lock() {
            Ok(()) => {
                let _ = std::fs::remove_file(entry.path());
            }
            Err(TryLockError::WouldBlock | TryLockError::Error(_)) => {}
        }
    }
}
