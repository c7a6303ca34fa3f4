//! Bytes to letters: gzip, UTF-8, UTF-16 and the old western code page.

use miniz_oxide::inflate::decompress_to_vec_with_limit;

use crate::bring_in::{BringInError, Limits};

/// The letters of an SVG file, unpacked if it is packed.
pub(super) fn letters(bytes: &[u8], file: &str, limits: &Limits) -> Result<String, BringInError> {
    if bytes.starts_with(&[0x1f, 0x8b]) {
        return text(&unzipped(bytes, file, limits)?, file);
    }
    text(bytes, file)
}

fn broken(file: &str, why: &str) -> BringInError {
    BringInError::Broken {
        file: file.to_owned(),
        why: why.to_owned(),
    }
}

/// Unpacks gzip (RFC 1952), never to more than the limit.
fn unzipped(bytes: &[u8], file: &str, limits: &Limits) -> Result<Vec<u8>, BringInError> {
    let short = || broken(file, "the packed file ends in its head");
    let flags = *bytes.get(3).ok_or_else(short)?;
    let mut rest = bytes.get(10..).ok_or_else(short)?;
    if flags & 4 != 0 {
        let (low, high) = rest
            .first()
            .zip(rest.get(1))
            .map(|(low, high)| (usize::from(*low), usize::from(*high)))
            .ok_or_else(short)?;
        rest = rest.get(2 + low + 256 * high..).ok_or_else(short)?;
    }
    for flag in [8, 16] {
        if flags & flag != 0 {
            let end = rest.iter().position(|b| *b == 0).ok_or_else(short)?;
            rest = rest.get(end + 1..).ok_or_else(short)?;
        }
    }
    if flags & 2 != 0 {
        rest = rest.get(2..).ok_or_else(short)?;
    }
    let most = usize::try_from(limits.bytes).unwrap_or(usize::MAX);
    decompress_to_vec_with_limit(rest, most).map_err(|why| {
        if matches!(why.status, miniz_oxide::inflate::TINFLStatus::HasMoreOutput) {
            limits.error(file, limits.bytes, "bytes once unpacked")
        } else {
            broken(file, "it cannot be unpacked")
        }
    })
}

fn text(bytes: &[u8], file: &str) -> Result<String, BringInError> {
    let pairs = |from: fn([u8; 2]) -> u16| -> Vec<u16> {
        bytes
            .chunks_exact(2)
            .filter_map(|pair| Some(from(<[u8; 2]>::try_from(pair).ok()?)))
            .collect()
    };
    if bytes.starts_with(&[0xff, 0xfe]) {
        return Ok(without_mark(&String::from_utf16_lossy(&pairs(u16::from_le_bytes))).to_owned());
    }
    if bytes.starts_with(&[0xfe, 0xff]) {
        return Ok(without_mark(&String::from_utf16_lossy(&pairs(u16::from_be_bytes))).to_owned());
    }
    if let Ok(text) = std::str::from_utf8(bytes) {
        return Ok(without_mark(text).to_owned());
    }
    let head = String::from_utf8_lossy(bytes.get(..200.min(bytes.len())).unwrap_or_default())
        .to_lowercase();
    if head.contains("iso-8859-1") || head.contains("windows-1252") || head.contains("latin1") {
        return Ok(bytes.iter().map(|byte| char::from(*byte)).collect());
    }
    Err(broken(file, "its letters are not UTF-8"))
}

fn without_mark(text: &str) -> &str {
    text.strip_prefix('\u{feff}').unwrap_or(text)
}
