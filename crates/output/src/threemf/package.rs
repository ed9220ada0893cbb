//! A ZIP archive that holds the same bytes for the same parts: no clock is asked.
//!
//! The records are those of the ZIP file format's specification (APPNOTE 6.3, numbers from memory; the
//! tests read the archive with a reader of others).

use flate2::write::DeflateEncoder;
use flate2::{Compression, Crc};

/// The first day that the format can say, 1 January 1980: month and day from 1, years from 1980.
const DATE: u16 = (1 << 5) | 1;

/// Version 2.0 of the format, the first with deflate.
const VERSION: u16 = 20;

/// Deflate, as the format numbers it.
const DEFLATED: u16 = 8;

/// An archive of named texts.
pub(super) fn zipped(parts: &[(&str, &str)]) -> Vec<u8> {
    let (mut archive, mut directory) = (Vec::new(), Vec::new());
    for (name, text) in parts {
        let packed = deflated(text.as_bytes());
        let mut crc = Crc::new();
        crc.update(text.as_bytes());
        let mut entry = Vec::new();
        // Version, flags, method, time and date; then checksum, sizes and lengths of name and extras.
        for number in [VERSION, 0, DEFLATED, 0, DATE] {
            entry.extend(number.to_le_bytes());
        }
        for number in [
            crc.sum(),
            size(packed.len()),
            size(text.len()),
            size(name.len()),
        ] {
            entry.extend(number.to_le_bytes());
        }
        let offset = size(archive.len());
        archive.extend(b"PK\x03\x04");
        archive.extend(&entry);
        archive.extend(name.bytes());
        archive.extend(packed);

        directory.extend(b"PK\x01\x02");
        directory.extend(VERSION.to_le_bytes());
        directory.extend(entry);
        // No comment, first disk, no attributes.
        directory.extend([0; 10]);
        directory.extend(offset.to_le_bytes());
        directory.extend(name.bytes());
    }
    let (start, length, count) = (archive.len(), directory.len(), size(parts.len()));
    archive.extend(directory);
    archive.extend(b"PK\x05\x06");
    // First disk, twice; then how many entries, twice.
    archive.extend([0; 4]);
    archive.extend((count | (count << 16)).to_le_bytes());
    archive.extend(size(length).to_le_bytes());
    archive.extend(size(start).to_le_bytes());
    // No comment.
    archive.extend([0; 2]);
    archive
}

/// A size as the format holds it. A package of three parts stays far below 4 GiB.
fn size(length: usize) -> u32 {
    u32::try_from(length).unwrap_or(u32::MAX)
}

fn deflated(bytes: &[u8]) -> Vec<u8> {
    use std::io::Write;
    let mut encoder = DeflateEncoder::new(Vec::new(), Compression::default());
    let written = encoder.write_all(bytes);
    written
        .and_then(|()| encoder.finish())
        .expect("writing to memory does not fail")
}
