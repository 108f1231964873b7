//! The program `zeotrope`.

fn main() -> std::process::ExitCode {
    std::process::ExitCode::SUCCESS
}
