use super::{Colours, Facts, Format, MOST_PIXELS, PictureError, Profile, Reading, read};

/// A PNG of given pixels; `extra` may add chunks.
fn png(width: u32, height: u32, kind: (png::ColorType, png::BitDepth), data: &[u8]) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, width, height);
    encoder.set_color(kind.0);
    encoder.set_depth(kind.1);
    let mut writer = encoder.write_header().unwrap();
    writer.write_image_data(data).unwrap();
    writer.finish().unwrap();
    bytes
}

fn facts(bytes: &[u8]) -> (Vec<u8>, Facts) {
    let Reading { picture, facts } = read(bytes).unwrap();
    (picture.rgb.to_vec(), facts)
}

fn refused(bytes: &[u8]) -> String {
    let PictureError { message, help } = read(bytes).unwrap_err();
    for sentence in [&message, &help] {
        assert!(sentence.ends_with('.') && sentence.len() < 300, "{sentence}");
    }
    message
}

#[test]
fn samples_of_every_depth_become_the_nearest_level() {
    use png::{BitDepth, ColorType};
    let (rgb, told) = facts(&png(2, 1, (ColorType::Grayscale, BitDepth::One), &[0b0100_0000]));
    assert_eq!((rgb.as_slice(), told.bits), ([0, 0, 0, 255, 255, 255].as_slice(), 1));
    // 0x7FFF and 0x8000 lie on both sides of the middle, 127.5.
    let sixteen = [0x7F, 0xFF, 0x80, 0x00, 0xFF, 0xFF];
    let (rgb, told) = facts(&png(1, 1, (ColorType::Rgb, BitDepth::Sixteen), &sixteen));
    assert_eq!((rgb.as_slice(), told.bits), ([127, 128, 255].as_slice(), 16));
    assert_eq!((told.format, told.colours, told.over_white), (Format::Png, Colours::Rgb, false));
    assert_eq!(told.profile, Profile::None);
}

#[test]
fn what_is_see_through_is_laid_over_white_and_told() {
    use png::{BitDepth, ColorType};
    let data = [200, 100, 0, 255, 200, 100, 0, 0, 200, 100, 0, 128];
    let (rgb, told) = facts(&png(3, 1, (ColorType::Rgba, BitDepth::Eight), &data));
    // 128/255 of the colour and the rest white: 255 - 55·0.50196 = 227.4 and so on.
    assert_eq!(rgb, [200, 100, 0, 255, 255, 255, 227, 177, 127]);
    assert!(told.over_white);
}

#[test]
fn an_empty_picture_or_one_too_large_is_refused_before_memory_is_taken() {
    let mut bytes = png(1, 1, (png::ColorType::Grayscale, png::BitDepth::Eight), &[0]);
    bytes[16..20].copy_from_slice(&60_000_u32.to_be_bytes());
    bytes[20..24].copy_from_slice(&60_000_u32.to_be_bytes());
    // The checksum of the header, so that nothing else is wrong with it.
    let crc = crc32(&bytes[12..29]);
    bytes[29..33].copy_from_slice(&crc.to_be_bytes());
    let most = MOST_PIXELS / 1_000_000;
    let words = format!("The picture has 60000 x 60000 pixels; at most {most} million are read.");
    assert_eq!(refused(&bytes), words);
    bytes[16..20].fill(0);
    let crc = crc32(&bytes[12..29]);
    bytes[29..33].copy_from_slice(&crc.to_be_bytes());
    refused(&bytes);
}

/// CRC-32 of ISO 3309, bit by bit.
fn crc32(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |all, byte| {
        (0..8).fold(all ^ u32::from(*byte), |bits, _| {
            if bits & 1 == 1 { (bits >> 1) ^ 0xEDB8_8320 } else { bits >> 1 }
        })
    })
}

#[test]
fn other_kinds_of_file_are_named() {
    for (bytes, word) in [
        (b"".as_slice(), "empty"),
        (b"GIF89a....", "GIF"),
        (b"BM......", "BMP"),
        (b"%PDF-1.7", "PDF"),
        (b"<?xml version='1.0'?>\n<!-- a bell -->\n<svg xmlns=''>", "SVG"),
        (b"\0\0\0\x20ftypheic\0\0\0\0", "HEIC"),
        (b"\0\0\0\x20ftypavif\0\0\0\0", "AVIF"),
        (b"\0\0\0\x18ftypmp42\0\0\0\0", "film"),
        (b"\0\0\0\x0CJXL \r\n\x87\n", "JPEG XL"),
        (b"\0\0\0\x0CjP  \r\n\x87\n", "JPEG 2000"),
        (b"8BPS\0\x01", "PSD"),
        (b"II*\0\x10\0\0\0CR\x02\0", "raw"),
        (b"ansata = 1\n", "not a photograph"),
        (b"RIFF\x04\0\0\0WAVE", "not a photograph"),
    ] {
        let message = refused(bytes);
        assert!(message.contains(word), "{message}");
    }
}
