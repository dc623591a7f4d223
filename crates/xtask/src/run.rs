//! Running other programs.
//!
//! In: a program, its words, and extra environment. Out: success, its output, or one sentence.
//! Always true: programs run from the top of the workspace, with `.tools/bin` and
//! `node_modules/.bin` first on the search path.

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// The top folder of the workspace.
pub fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors().nth(2).unwrap_or(here).to_path_buf()
}

/// Where tools of the exact versions we need are kept.
pub fn tools_dir() -> PathBuf {
    root().join(".tools")
}

/// Where cargo puts what it builds in a profile.
pub fn built(profile: &str) -> PathBuf {
    let target = std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root().join("target"), PathBuf::from);
    root().join(target).join(profile)
}

/// The search path with our own tools first, so that Trunk finds the versions it insists on.
fn search_path() -> OsString {
    let mut folders = vec![tools_dir().join("bin"), root().join("node_modules").join(".bin")];
    if let Some(path) = std::env::var_os("PATH") {
        folders.extend(std::env::split_paths(&path));
    }
    std::env::join_paths(folders).unwrap_or_default()
}

/// A program by name, looked up on our search path.
pub fn find(program: &str) -> Option<PathBuf> {
    std::env::split_paths(&search_path()).map(|folder| folder.join(program)).find(|path| path.is_file())
}

/// A command ready to run from the top of the workspace.
pub fn command(program: &str, words: &[&str]) -> Command {
    // A path is taken as it is; a bare name is looked up.
    let path = match program.contains('/') {
        true => PathBuf::from(program),
        false => find(program).unwrap_or_else(|| PathBuf::from(program)),
    };
    let mut command = Command::new(path);
    command.args(words).current_dir(root()).env("PATH", search_path());
    // `cargo run` sets these for us; passed on, they would make inner builds start over.
    for name in ["CARGO_MANIFEST_DIR", "CARGO_PKG_NAME", "CARGO_PKG_VERSION"] {
        command.env_remove(name);
    }
    command
}

/// Runs a command, its output going straight to the terminal.
pub fn show(mut command: Command, what: &str) -> Result<(), String> {
    match command.status() {
        Ok(status) if status.success() => Ok(()),
        Ok(status) => Err(format!("{what} failed ({status}).")),
        Err(error) => Err(format!("{what} could not be started: {error}.")),
    }
}

/// Runs a command beside others; what it printed, all at once, and whether it succeeded.
pub fn gathered(mut command: Command, what: &str) -> (String, Result<(), String>) {
    match command.stdin(Stdio::null()).output() {
        Ok(output) => {
            let text =
                [output.stdout, output.stderr].map(|bytes| String::from_utf8_lossy(&bytes).into_owned());
            let held = output.status.success().then_some(());
            (text.concat(), held.ok_or_else(|| format!("{what} failed ({}).", output.status)))
        }
        Err(error) => (String::new(), Err(format!("{what} could not be started: {error}."))),
    }
}

/// Runs a command and gives what it wrote to its standard output.
pub fn read(mut command: Command, what: &str) -> Result<String, String> {
    let output = command
        .stdin(Stdio::null())
        .stderr(Stdio::inherit())
        .output()
        .map_err(|error| format!("{what} could not be started: {error}."))?;
    if !output.status.success() {
        return Err(format!("{what} failed ({}).", output.status));
    }
    String::from_utf8(output.stdout).map_err(|_| format!("{what} printed something that is not text."))
}
