//! PNG of dots: one bit each, so that no reader can soften them.

use super::WriteError;
use super::png::{packing, pixel_dimensions};
use crate::picture::Bits;

/// Dots as a PNG in grey of 1 bit, a made dot black, with the resolution recorded in whole
/// pixels per metre, as the format has it.
///
/// # Errors
/// A picture without dots; a resolution that is not a number above 0.
pub fn png_of_bits(bits: &Bits, dots_per_mm: f64) -> Result<Vec<u8>, WriteError> {
    if !(dots_per_mm.is_finite() && dots_per_mm > 0.0) {
        return Err(WriteError(format!(
            "a resolution must be a number of dots per mm above 0; it is {dots_per_mm}"
        )));
    }
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, bits.width(), bits.height());
    encoder.set_color(png::ColorType::Grayscale);
    encoder.set_depth(png::BitDepth::One);
    // Neighbouring rows of a screen have little in common.
    encoder.set_filter(png::Filter::NoFilter);
    encoder.set_deflate_compression(png::DeflateCompression::Level(6));
    encoder.set_pixel_dims(Some(pixel_dimensions(dots_per_mm)));
    let mut writer = encoder.write_header().map_err(|error| packing(&error))?;
    // In grey 0 is black.
    let white: Vec<u8> = bits.packed().flatten().map(|made| !made).collect();
    writer.write_image_data(&white).map_err(|error| packing(&error))?;
    writer.finish().map_err(|error| packing(&error))?;
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dots_come_back_as_they_were_with_their_resolution() {
        let bits = Bits::by(19, 5, |x, y| (x * y) % 3 == 1);
        // 600 dpi: 23.622 dots per mm, 23 622 per metre.
        let bytes = png_of_bits(&bits, 600.0 / 25.4).unwrap();
        let mut decoder = png::Decoder::new(std::io::Cursor::new(&bytes));
        decoder.set_transformations(png::Transformations::IDENTITY);
        let mut reader = decoder.read_info().unwrap();
        let info = reader.info();
        assert_eq!((info.width, info.height), (19, 5));
        assert_eq!(
            (info.color_type, info.bit_depth),
            (png::ColorType::Grayscale, png::BitDepth::One)
        );
        let dims = info.pixel_dims.unwrap();
        assert_eq!((dims.xppu, dims.yppu, dims.unit), (23_622, 23_622, png::Unit::Meter));
        let mut rows = vec![0; reader.output_buffer_size().unwrap()];
        reader.next_frame(&mut rows).unwrap();
        for y in 0..5 {
            for x in 0..19 {
                let bit = rows[(y * 3 + x / 8) as usize] >> (7 - x % 8) & 1;
                assert_eq!(bit == 0, bits.made(x, y), "{x} {y}");
            }
        }
    }

    #[test]
    fn without_dots_or_resolution_there_is_no_picture() {
        assert!(png_of_bits(&Bits::blank(0, 3), 20.0).is_err());
        assert!(png_of_bits(&Bits::blank(3, 0), 20.0).is_err());
        for odd in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(png_of_bits(&Bits::blank(3, 3), odd).is_err());
        }
    }
}
