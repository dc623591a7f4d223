//! Files and tables on disk.
//!
//! In: paths, bytes, CSV. Out: files, folders, readers; what goes wrong is one sentence that names the path.
//! Always true: what is saved whole has its name only when every byte is there.

use crate::load::plain;
use std::io::Write;
use std::path::Path;

fn unwritable(path: &Path) -> impl Fn(std::io::Error) -> String {
    let name = path.display().to_string();
    move |e| format!("{name} cannot be written: {}.", plain(&e))
}

/// Writes a file.
pub fn write(path: &Path, bytes: impl AsRef<[u8]>) -> Result<(), String> {
    std::fs::write(path, bytes).map_err(unwritable(path))
}

/// Writes beside the file and then renames, so that a full disk loses nothing and half a file never has its name; the
/// bytes are on the disk before the name is, so that not even a power cut leaves an empty file under it.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), String> {
    let mut part = path.to_path_buf();
    part.as_mut_os_string().push(".part");
    let write = || {
        let mut file = std::fs::File::create(&part)?;
        file.write_all(bytes)?;
        file.sync_all()
    };
    write().map_err(unwritable(path))?;
    std::fs::rename(&part, path).map_err(unwritable(path))
}

/// Makes a folder and those above it.
pub fn folder(path: &Path) -> Result<(), String> {
    std::fs::create_dir_all(path).map_err(|e| format!("{} cannot be made: {}.", path.display(), plain(&e)))
}

/// Bytes of a file.
pub fn bytes(path: &Path) -> Result<Vec<u8>, String> {
    std::fs::read(path).map_err(|e| format!("{} cannot be read: {}.", path.display(), plain(&e)))
}

/// A CSV table (RFC 4180) with a header; `wrong` makes a sentence of what the reader says.
pub fn table<'a>(
    bytes: &'a [u8],
    wrong: &dyn Fn(&dyn std::fmt::Display) -> String,
) -> Result<(csv::Reader<&'a [u8]>, Vec<String>), String> {
    let mut reader = csv::ReaderBuilder::new().trim(csv::Trim::All).from_reader(bytes);
    // Spreadsheets put a byte order mark in front.
    let heads = reader.headers().map_err(|e| wrong(&e))?;
    let heads = heads.iter().map(|h| h.trim_start_matches('\u{feff}').to_string()).collect();
    Ok((reader, heads))
}
