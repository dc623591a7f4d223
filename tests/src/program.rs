//! The terminal program for tests, and folders of their own for what it writes.
//!
//! In: names. Out: the program built, folders, the bytes of demo plans.
//! Always true: a folder is one test's and one run's alone.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::OnceLock;

/// The terminal program, built once, as `cargo test --workspace` builds it.
///
/// # Panics
/// When it does not build.
pub fn program() -> &'static Path {
    static BUILT: OnceLock<PathBuf> = OnceLock::new();
    BUILT.get_or_init(|| {
        let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".into());
        let words = ["build", "--quiet", "--workspace", "--bin", "turnleaf"];
        let done = Command::new(cargo).args(words).current_dir(root()).status();
        assert!(done.is_ok_and(|done| done.success()), "the program does not build");
        let mut path = std::env::current_exe().unwrap_or_default();
        path.pop();
        path.pop();
        path.join(format!("turnleaf{}", std::env::consts::EXE_SUFFIX))
    })
}

/// Calls the terminal program in a folder.
///
/// # Panics
/// When it cannot be started.
pub fn call(words: &[&str], folder: &Path) -> Output {
    let done = Command::new(program()).args(words).current_dir(folder).output();
    done.unwrap_or_else(|why| panic!("the program cannot be started: {why}"))
}

/// A new folder for one test.
///
/// # Panics
/// When it cannot be made.
pub fn folder(name: &str) -> PathBuf {
    let path = std::env::temp_dir().join(format!("turnleaf-{}-{name}", std::process::id()));
    let made = std::fs::create_dir_all(&path);
    assert!(made.is_ok(), "{made:?}");
    path
}

/// The bytes of a demo plan.
///
/// # Panics
/// When there is no such plan.
pub fn demo(name: &str) -> Vec<u8> {
    let path = root().join("demo").join(name);
    std::fs::read(&path).unwrap_or_else(|why| panic!("{}: {why}", path.display()))
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}
