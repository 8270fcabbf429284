//! What a file is, by its first bytes.

use super::{Format, PictureError, words};

/// How far into a text a drawing's first word is looked for, past a declaration and remarks.
const LOOKED_AT: usize = 1024;

/// What is said of a kind that is not read.
type Refusal = fn() -> PictureError;

/// First bytes of kinds that are not read, and what is said of them.
const OTHERS: [(&[u8], Refusal); 17] = [
    (b"GIF8", || words::other_kind("a GIF picture")),
    (b"BM", || words::other_kind("a BMP picture")),
    (b"8BPS", || words::other_kind("a layered working file (PSD)")),
    (b"8BPB", || words::other_kind("a layered working file (PSB)")),
    (b"\xFF\x0A", || words::other_kind("a JPEG XL picture")),
    (b"\0\0\0\x0CJXL ", || words::other_kind("a JPEG XL picture")),
    (b"\0\0\0\x0CjP  ", || words::other_kind("a JPEG 2000 picture")),
    (b"\xFF\x4F\xFF\x51", || words::other_kind("a JPEG 2000 picture")),
    (b"\0\0\x01\0", || words::other_kind("an icon file (ICO)")),
    (b"v/1\x01", || words::other_kind("an OpenEXR picture")),
    (b"#?RADIANCE", || words::other_kind("a Radiance HDR picture")),
    (b"%PDF", || words::drawing("a PDF document")),
    (b"%!PS", || words::drawing("a PostScript document")),
    (b"\xC5\xD0\xD3\xC6", || words::drawing("a PostScript document")),
    (b"PK\x03\x04", || words::other_kind("a ZIP archive or an office document")),
    (b"FUJIFILMCCD-RAW", words::raw),
    (b"IIRO", words::raw),
];

/// Brands of files in boxes (ISO/IEC 14496-12, ISO/IEC 23008-12, AV1 Image File Format).
const BRANDS: [(&[u8], Refusal); 9] = [
    (b"avif", || words::other_kind("an AVIF picture")),
    (b"avis", || words::other_kind("an AVIF picture")),
    (b"heic", heic),
    (b"heix", heic),
    (b"heim", heic),
    (b"hevc", heic),
    (b"mif1", heic),
    (b"msf1", heic),
    (b"crx ", words::raw),
];

fn heic() -> PictureError {
    PictureError {
        message: "This is a HEIC picture, as telephones store them, which is not read.".to_owned(),
        help: "Share or export it as JPEG from the telephone or its program for photographs."
            .to_owned(),
    }
}

/// What kind of photograph it is.
pub(super) fn told(bytes: &[u8]) -> Result<Format, PictureError> {
    if bytes.is_empty() {
        return Err(words::nothing());
    }
    let begins = |with: &[u8]| bytes.starts_with(with);
    if begins(b"\xFF\xD8\xFF") {
        return Ok(Format::Jpeg);
    }
    if begins(b"\x89PNG\r\n\x1A\n") {
        return Ok(Format::Png);
    }
    if begins(b"RIFF") && bytes.get(8..12) == Some(b"WEBP") {
        return Ok(Format::WebP);
    }
    if begins(b"II*\0") || begins(b"MM\0*") || begins(b"II+\0") || begins(b"MM\0+") {
        let raw = bytes.get(8..10) == Some(b"CR");
        return if raw { Err(words::raw()) } else { Ok(Format::Tiff) };
    }
    if let Some((_, refusal)) = OTHERS.iter().find(|(first, _)| begins(first)) {
        return Err(refusal());
    }
    if bytes.get(4..8) == Some(b"ftyp") {
        let brand = BRANDS.iter().find(|(brand, _)| bytes.get(8..12) == Some(brand));
        let film = || words::other_kind("a film or a picture in a film's wrapping");
        return Err(brand.map_or_else(film, |(_, refusal)| refusal()));
    }
    let start = String::from_utf8_lossy(&bytes[..bytes.len().min(LOOKED_AT)]).to_lowercase();
    if start.contains("<svg") {
        return Err(words::drawing("an SVG drawing"));
    }
    Err(words::unknown())
}
