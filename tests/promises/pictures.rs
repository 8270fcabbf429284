//! Promises about photographs: whatever the file, a right picture or a clear word, in bounded
//! memory.

use std::io::Cursor;
use std::panic::catch_unwind;
use std::process::Command;

use ansata::picture::{Format, Profile, read};
use tiff::encoder::{Compression, DeflateLevel, TiffEncoder, colortype};

/// Numbers without a pattern, the same in every run (Marsaglia's xorshift).
pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    /// From 0 to less than `end`; 0 where there is nothing less.
    fn below(&mut self, end: usize) -> usize {
        let next = usize::try_from(self.next() >> 33).unwrap();
        if end == 0 { 0 } else { next % end }
    }
}

/// A picture of slopes, 48 x 32.
fn drawn(samples: usize) -> Vec<u8> {
    (0..48 * 32)
        .flat_map(|at| (0..samples).map(move |of| [at % 48 * 5, at / 48 * 7, at % 80 * 3, 180][of]))
        .map(|level| u8::try_from(level % 256).unwrap())
        .collect()
}

fn profile() -> Vec<u8> {
    moxcms::ColorProfile::new_display_p3().encode().unwrap()
}

fn jpeg() -> Vec<u8> {
    use image::ImageEncoder;
    let mut bytes = Vec::new();
    let mut encoder = image::codecs::jpeg::JpegEncoder::new_with_quality(&mut bytes, 80);
    encoder.set_icc_profile(profile()).unwrap();
    encoder.write_image(&drawn(3), 48, 32, image::ExtendedColorType::Rgb8).unwrap();
    bytes
}

fn png(samples: usize) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut info = png::Info::with_size(48, 32);
    info.color_type = if samples == 3 { png::ColorType::Rgb } else { png::ColorType::Rgba };
    info.bit_depth = png::BitDepth::Eight;
    info.icc_profile = Some(profile().into());
    let mut writer = png::Encoder::with_info(&mut bytes, info).unwrap().write_header().unwrap();
    writer.write_image_data(&drawn(samples)).unwrap();
    writer.finish().unwrap();
    bytes
}

fn tiff(compression: Compression) -> Vec<u8> {
    let mut file = Cursor::new(Vec::new());
    let mut encoder = TiffEncoder::new(&mut file).unwrap().with_compression(compression);
    encoder.write_image::<colortype::RGB8>(48, 32, &drawn(3)).unwrap();
    file.into_inner()
}

fn webp(samples: usize) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = image_webp::WebPEncoder::new(&mut bytes);
    encoder.set_icc_profile(profile());
    let kind =
        if samples == 3 { image_webp::ColorType::Rgb8 } else { image_webp::ColorType::Rgba8 };
    encoder.encode(&drawn(samples), 48, 32, kind).unwrap();
    bytes
}

/// A whole file of each kind.
fn whole_files() -> Vec<Vec<u8>> {
    let packed = Compression::Deflate(DeflateLevel::Balanced);
    vec![
        jpeg(),
        png(3),
        png(4),
        tiff(Compression::Lzw),
        tiff(packed),
        tiff(Compression::Packbits),
        webp(3),
        webp(4),
    ]
}

/// A copy of a file with something wrong: bytes changed, lengths blown up, cut, parts
/// exchanged, doubled or left out. The checksums of PNG are made right again every other
/// time, or hardly anything else of it would ever be looked at.
pub(crate) fn broken(whole: &[u8], dice: &mut Dice) -> Vec<u8> {
    let mut bytes = whole.to_vec();
    for _ in 0..=dice.below(3) {
        let at = dice.below(bytes.len());
        // Headers are where the harm is.
        let at = if dice.below(2) == 0 { at.min(dice.below(400)) } else { at };
        let long = dice.below(24).min(bytes.len() - at);
        match dice.below(7) {
            0 | 1 => bytes[at] = u8::try_from(dice.below(256)).unwrap(),
            2 => bytes[at] ^= 1 << dice.below(8),
            3 => {
                let huge = [0xFF, 0x7F, 0x80, 0x00][dice.below(4)];
                bytes[at..at + long.min(4)].fill(huge);
            }
            4 => bytes.truncate(at.max(1)),
            5 => {
                let part: Vec<u8> = bytes.drain(at..at + long).collect();
                let to = dice.below(bytes.len());
                let times = dice.below(3);
                bytes.splice(to..to, part.repeat(times));
            }
            _ => {
                let (one, other) = (dice.below(bytes.len()), dice.below(bytes.len()));
                let long = long.min(one.abs_diff(other)).min(bytes.len() - one.max(other));
                for step in 0..long {
                    bytes.swap(one + step, other + step);
                }
            }
        }
        if bytes.is_empty() {
            return bytes;
        }
    }
    if bytes.starts_with(b"\x89PNG") && dice.below(2) == 0 {
        mend_checksums(&mut bytes);
    }
    bytes
}

fn mend_checksums(bytes: &mut [u8]) {
    let mut at = 8;
    while let Some(long) = bytes.get(at..at + 4) {
        let long = usize::try_from(u32::from_be_bytes(long.try_into().unwrap())).unwrap();
        let end = at.saturating_add(8).saturating_add(long);
        let Some(chunk) = bytes.get(at + 4..end) else { return };
        let sum = crate::artwork_outside::crc32(chunk).to_be_bytes();
        let Some(place) = bytes.get_mut(end..end + 4) else { return };
        place.copy_from_slice(&sum);
        at = end + 4;
    }
}

/// Reads a broken file: whatever comes of it, it is no panic, and a refusal is in sentences.
pub(crate) fn survives(bytes: &[u8], which: &str) -> bool {
    let Ok(read) = catch_unwind(|| read(bytes)) else { panic!("{which} ended in a panic") };
    match read {
        Ok(reading) => {
            let picture = reading.picture;
            let pixels = u64::from(picture.width) * u64::from(picture.height);
            assert_eq!(u64::try_from(picture.rgb.len()).unwrap(), 3 * pixels, "{which}");
            true
        }
        Err(error) => {
            for words in [&error.message, &error.help] {
                let clean = words.ends_with('.') && !words.contains(char::is_control);
                assert!(clean && words.len() < 400, "{which}: {words}");
            }
            false
        }
    }
}

/// Most memory that this process has had so far, bytes; `None` where the system does not say.
pub(crate) fn most_so_far() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    Some(line.split_whitespace().nth(1)?.parse::<u64>().ok()? * 1024)
}

/// Does some work in a process of its own, so that its memory is not mixed with that of other
/// tests. `name` is the test's own, under which it is found again.
pub(crate) fn alone(name: &str, work: impl FnOnce()) {
    if std::env::var("ANSATA_ALONE").is_ok_and(|asked| asked == name) {
        return work();
    }
    let ended = Command::new(std::env::current_exe().unwrap())
        .args([name, "--exact", "--nocapture"])
        .env("ANSATA_ALONE", name)
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&ended.stdout);
    let wrong = String::from_utf8_lossy(&ended.stderr);
    assert!(ended.status.success() && said.contains("1 passed"), "{name}: {said}{wrong}");
}

#[test]
fn twelve_hundred_broken_files_end_in_words_and_in_bounded_memory() {
    const EACH: u64 = 150;
    alone("pictures::twelve_hundred_broken_files_end_in_words_and_in_bounded_memory", || {
        let files = whole_files();
        let before = most_so_far();
        let (mut read, mut tried) = (0, 0);
        for (kind, whole) in files.iter().enumerate() {
            for seed in 0..EACH {
                let mut dice = Dice::new(seed * 100 + u64::try_from(kind).unwrap());
                read += u32::from(survives(&broken(whole, &mut dice), &format!("{kind}, {seed}")));
                tried += 1;
            }
        }
        // Neither is everything refused nor does everything pass.
        assert!(tried == 1200 && read > 50 && read < 900, "{read} of {tried} were read");
        // Far below what any one photograph may take: none promises more than it holds.
        if let (Some(before), Some(after)) = (before, most_so_far()) {
            let more = (after - before) >> 20;
            println!("{more} MB more at most; {read} of {tried} were read");
            assert!(more < 64, "{more} MB");
        }
    });
}

#[test]
fn a_file_that_ends_too_early_is_refused_wherever_it_ends() {
    for whole in whole_files() {
        let known = read(&whole).unwrap();
        for end in 0..whole.len() {
            // A TIFF's list of tags stands at its end: without it there is no picture. After
            // the list only values may follow, and a word of what is missing.
            let cut = read(&whole[..end]);
            if known.facts.format == Format::Tiff && end + 32 > whole.len() {
                continue;
            }
            assert!(cut.is_err(), "{:?} of {} bytes cut at {end}", known.facts, whole.len());
        }
        // What follows the picture is not ours to judge: cameras add a film to a JPEG.
        let longer = [whole.as_slice(), b"and more"].concat();
        assert_eq!(read(&longer).unwrap().picture, known.picture);
    }
}

#[test]
fn all_four_formats_hold_the_same_picture() {
    let wanted = drawn(3);
    for whole in [tiff(Compression::Lzw), tiff(Compression::Uncompressed)] {
        assert_eq!(*read(&whole).unwrap().picture.rgb, *wanted);
    }
    let [png, webp, jpeg] = [png(3), webp(3), jpeg()].map(|bytes| read(&bytes).unwrap());
    assert_eq!(png.picture, webp.picture);
    let apart = png.picture.rgb.iter().zip(jpeg.picture.rgb.iter()).map(|(a, b)| a.abs_diff(*b));
    let sum: u32 = apart.map(u32::from).sum();
    assert!(sum / 4608 < 12, "{sum}");
    for reading in [png, webp, jpeg] {
        assert!(matches!(&reading.facts.profile, Profile::Used(name) if name.contains("P3")));
    }
}

/// A chunk of PNG.
fn chunk(name: &[u8], data: &[u8]) -> Vec<u8> {
    let named = [name, data].concat();
    let sum = crate::artwork_outside::crc32(&named).to_be_bytes();
    let long = u32::try_from(data.len()).unwrap().to_be_bytes();
    [long.as_slice(), &named, &sum].concat()
}

/// So many zeros, deflated.
fn packed_zeros(bytes: usize) -> Vec<u8> {
    let mut encoder = flate2::write::ZlibEncoder::new(Vec::new(), flate2::Compression::best());
    let block = vec![0; 1 << 20];
    for _ in 0..bytes >> 20 {
        std::io::Write::write_all(&mut encoder, &block).unwrap();
    }
    encoder.finish().unwrap()
}

fn png_of(width: u32, height: u32, before: &[u8], data: &[u8]) -> Vec<u8> {
    let sides = [width.to_be_bytes(), height.to_be_bytes()].concat();
    let header = chunk(b"IHDR", &[sides.as_slice(), &[8, 2, 0, 0, 0]].concat());
    let rest = [chunk(b"IDAT", data), chunk(b"IEND", b"")].concat();
    [b"\x89PNG\r\n\x1A\n".as_slice(), &header, before, &rest].concat()
}

/// A TIFF of one strip, little-endian, with tags as given: number, type, count, value.
fn tiff_of(tags: &[(u16, u16, u32, u32)], data: &[u8]) -> Vec<u8> {
    let list = u32::try_from(8 + data.len()).unwrap();
    let mut bytes = [b"II*\0".as_slice(), &list.to_le_bytes(), data].concat();
    bytes.extend(u16::try_from(tags.len()).unwrap().to_le_bytes());
    for (tag, kind, count, value) in tags {
        bytes.extend([tag.to_le_bytes(), kind.to_le_bytes()].concat());
        bytes.extend([count.to_le_bytes(), value.to_le_bytes()].concat());
    }
    bytes.extend([0; 4]);
    bytes
}

/// Small files that promise much.
fn bombs() -> Vec<(&'static str, Vec<u8>)> {
    let side = 60_000;
    let profile = [b"x\0\0".as_slice(), &packed_zeros(256 << 20)].concat();
    let mut jpeg = jpeg();
    let frame = jpeg.windows(2).position(|two| two == [0xFF, 0xC0]).unwrap();
    jpeg[frame + 5..frame + 9].copy_from_slice(&[0x27, 0x10, 0x27, 0x10]);
    let strip = |width, height, long| {
        tiff_of(
            &[
                (256, 4, 1, width),
                (257, 4, 1, height),
                (258, 3, 1, 8),
                (259, 3, 1, 1),
                (262, 3, 1, 1),
                (273, 4, 1, 8),
                (277, 3, 1, 1),
                (278, 4, 1, height),
                (279, 4, 1, long),
            ],
            &[0; 64],
        )
    };
    let tagged = tiff_of(
        &[
            (256, 4, 1, 8),
            (257, 4, 1, 8),
            (258, 3, 1, 8),
            (262, 3, 1, 1),
            (273, 4, 1, 8),
            (278, 4, 1, 8),
            (279, 4, 1, 64),
            (34675, 7, 0xFFFF_FFF0, 8),
        ],
        &[0; 64],
    );
    // A lossy picture of 16383 x 16383 on a canvas that is said to be 1 x 1.
    let frame = [b"\x10\0\0\x9D\x01\x2A\xFF\x3F\xFF\x3F".as_slice(), &[0; 22]].concat();
    let canvas = b"VP8X\x0A\0\0\0\0\0\0\0\0\0\0\0\0\0";
    let inner = [b"WEBP".as_slice(), canvas, b"VP8 \x20\0\0\0", &frame].concat();
    let long = u32::try_from(inner.len()).unwrap().to_le_bytes();
    let webp = [b"RIFF".as_slice(), &long, &inner].concat();
    vec![
        ("a PNG of 3600 million pixels", png_of(side, side, b"", &packed_zeros(1 << 20))),
        ("a PNG of 100 million pixels in 20 bytes", png_of(10_000, 10_000, b"", &[0; 20])),
        ("a PNG whose profile unpacks to 256 MB", png_of(1, 1, &chunk(b"iCCP", &profile), b"")),
        ("a JPEG of 100 million pixels in 1 kB", jpeg),
        ("a TIFF of 3600 million pixels", strip(side, side, 64)),
        ("a TIFF whose strip is longer than the file", strip(8, 8, u32::MAX)),
        ("a TIFF whose profile is said to take 4 GB", tagged),
        ("a WebP with a huge picture on a small canvas", webp),
    ]
}

#[test]
fn a_small_file_that_promises_much_is_refused_before_memory_is_taken() {
    alone("pictures::a_small_file_that_promises_much_is_refused_before_memory_is_taken", || {
        for (which, bytes) in bombs() {
            let before = most_so_far();
            let read = survives(&bytes, which);
            // The picture itself is whole there, only its profile is not.
            assert_eq!(read, which.contains("TIFF whose profile"), "{which}");
            if let (Some(before), Some(after)) = (before, most_so_far()) {
                assert!(after - before < 48 << 20, "{which}: {} MB", (after - before) >> 20);
            }
        }
    });
}
