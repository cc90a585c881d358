//! Reading a file: the only place that touches the disk.

use super::code::Code;
use crate::diagnostic::Diagnostic;
use std::fs::File;
use std::io::Read;
use std::path::Path;

/// Most bytes a herd file may have. Judgement: a thousand times an ordinary one.
pub const LARGEST: u64 = 1_000_000;
/// Most bytes a price sheet may have. Judgement: some hundred thousand lines.
const LARGEST_SHEET: u64 = 50_000_000;

/// The text of a file.
///
/// # Errors
/// One diagnostic, without a place, if the file cannot be opened, is a folder, is larger than [`LARGEST`]
/// (it is then not read), is not UTF-8 text, or is empty.
pub fn load(path: &Path) -> Result<String, Diagnostic> {
    text_of(bytes_of(path, LARGEST, too_large)?, &path.display().to_string())
}

/// The text of a price sheet.
///
/// # Errors
/// As [`load`].
pub fn load_sheet(path: &Path) -> Result<String, Diagnostic> {
    let too_large = |name: &str| {
        Code::TooLarge
            .error(format!("`{name}` is larger than fifty megabytes"))
            .help("cut it in parts and run them one by one")
    };
    plain_text(bytes_of(path, LARGEST_SHEET, too_large)?, &path.display().to_string())
}

/// The bytes of a file that has no more than `most`.
fn bytes_of(path: &Path, most: u64, too_large: fn(&str) -> Diagnostic) -> Result<Vec<u8>, Diagnostic> {
    let shown = path.display();
    let unread = |why: &str, help: &str| Code::Unread.error(format!("`{shown}` cannot be read: {why}")).help(help);
    let meta = std::fs::metadata(path).map_err(|error| match error.kind() {
        std::io::ErrorKind::NotFound => unread("there is no such file", "check the name and the folder"),
        std::io::ErrorKind::PermissionDenied => unread("permission is denied", "check who may read the file"),
        _ => unread(&error.to_string(), "check the name and the folder"),
    })?;
    if meta.is_dir() {
        return Err(unread("it is a folder", "name a file in it"));
    }
    if meta.len() > most {
        return Err(too_large(&shown.to_string()));
    }
    let file = File::open(path).map_err(|error| unread(&error.to_string(), "check who may read the file"))?;
    // The limit holds while reading too: pipes and devices have no length beforehand.
    let mut bytes = Vec::new();
    file.take(most + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| unread(&error.to_string(), "check the disk and the file"))?;
    if bytes.len() as u64 > most { Err(too_large(&shown.to_string())) } else { Ok(bytes) }
}

/// The text of bytes that came from `name` (a file or standard input).
///
/// # Errors
/// As [`load`]: too large, not text, or empty.
pub fn text_of(bytes: Vec<u8>, name: &str) -> Result<String, Diagnostic> {
    if bytes.len() as u64 > LARGEST {
        return Err(too_large(name));
    }
    let text = plain_text(bytes, name)?;
    if super::build::blank(&text) { Err(super::build::empty(name)) } else { Ok(text) }
}

/// UTF-8 text without a byte order mark.
fn plain_text(bytes: Vec<u8>, name: &str) -> Result<String, Diagnostic> {
    let not_text = |what: String| {
        Code::NotText
            .error(format!("`{name}` is not plain text: {what}"))
            .help("save it as plain text in UTF-8; a spreadsheet or document must be exported first")
    };
    if let Some(at) = bytes.iter().position(|byte| *byte == 0) {
        return Err(not_text(format!("byte {} is zero", at + 1)));
    }
    let text = String::from_utf8(bytes).map_err(|error| {
        not_text(format!("byte {} is not part of a UTF-8 character", error.utf8_error().valid_up_to() + 1))
    })?;
    Ok(text.strip_prefix('\u{feff}').map_or(text.clone(), str::to_owned))
}

fn too_large(name: &str) -> Diagnostic {
    Code::TooLarge
        .error(format!("`{name}` is larger than one megabyte"))
        .help("name the herd file or the gin file; it is a page or two of text")
}
