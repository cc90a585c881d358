//! Writing pages and starters to files. The only place that writes to the disk.

use super::{BAD_INPUT, DONE, Out};
use std::io::{Read as _, Write as _};
use std::path::Path;

/// How every page of ours begins.
const PAGE_BEGINS: &str = "<!DOCTYPE html>";

/// Writes a page to a file; `-` is standard output. What is there already is replaced only if it is a page, so that a
/// slip of the finger cannot cost a herd file. Gives the exit code, `done` where all went well.
pub(super) fn page(path: &Path, text: &str, done: u8, out: &mut Out<'_>) -> std::io::Result<u8> {
    if path == Path::new("-") {
        out.answer.write_all(text.as_bytes())?;
        return Ok(done);
    }
    if path.exists() && !is_page(path) {
        writeln!(out.rest, "error: {} is there already and is no page, so nothing was written", path.display())?;
        writeln!(out.rest, "  = help: name another file, such as `{}`", path.with_extension("html").display())?;
        return Ok(BAD_INPUT);
    }
    written(path, text, "page", done, out)
}

/// Writes a file that must not be there yet, unless `force` is given.
pub(super) fn new_file(path: &Path, text: &str, force: bool, out: &mut Out<'_>) -> std::io::Result<u8> {
    if path == Path::new("-") {
        out.answer.write_all(text.as_bytes())?;
        return Ok(DONE);
    }
    if force {
        return written(path, text, "starter", DONE, out);
    }
    let made = std::fs::OpenOptions::new().write(true).create_new(true).open(path);
    match made.and_then(|mut file| file.write_all(text.as_bytes())) {
        Ok(()) => told(path, "starter", DONE, out),
        Err(fault) if fault.kind() == std::io::ErrorKind::AlreadyExists => {
            writeln!(out.rest, "error: {} is there already, so nothing was written", path.display())?;
            writeln!(out.rest, "  = help: name another file, or write over it with `--force`")?;
            Ok(BAD_INPUT)
        }
        Err(fault) => failed(path, &fault, out),
    }
}

fn is_page(path: &Path) -> bool {
    let mut first = vec![0; PAGE_BEGINS.len()];
    std::fs::File::open(path).and_then(|mut file| file.read_exact(&mut first)).is_ok()
        && first == PAGE_BEGINS.as_bytes()
}

fn written(path: &Path, text: &str, what: &str, done: u8, out: &mut Out<'_>) -> std::io::Result<u8> {
    match std::fs::write(path, text) {
        Ok(()) => told(path, what, done, out),
        Err(fault) => failed(path, &fault, out),
    }
}

fn told(path: &Path, what: &str, done: u8, out: &mut Out<'_>) -> std::io::Result<u8> {
    writeln!(out.rest, "{what} written: {}", path.display())?;
    Ok(done)
}

fn failed(path: &Path, fault: &std::io::Error, out: &mut Out<'_>) -> std::io::Result<u8> {
    writeln!(out.rest, "error: {} cannot be written: {fault}", path.display())?;
    Ok(BAD_INPUT)
}
