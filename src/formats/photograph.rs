//! Pictures as they come from a telephone, made small and upright, and written anew without all that tells on people.

use std::io::Cursor;

use image::DynamicImage;
use image::ImageDecoder;
use image::ImageError;
use image::ImageFormat;
use image::ImageReader;
use image::Limits;
use image::RgbImage;
use image::codecs::jpeg::JpegEncoder;
use sha2::Digest;
use sha2::Sha256;
use thiserror::Error;

/// The longest side of a photograph that is kept, in pixels: enough to read a sheet of paper by.
const LONGEST_SIDE: u32 = 1_600;

/// The most pixels that are read: what telephones take, and no more.
const MOST_PIXELS: u64 = 52_000_000;

/// The longest side that is read, in pixels.
const LONGEST_READ: u32 = 20_000;

/// The most bytes that reading may take at one time: 512 MiB.
const MOST_BYTES: u64 = 512 * 1024 * 1024;

/// The most bytes of the pixels of one picture: half of that, so that as much is left for what the reader holds besides.
const MOST_PIXEL_BYTES: u64 = MOST_BYTES / 2;

/// How finely a photograph is kept, of 100: coarser squares begin to show around handwriting below it (judgement).
const QUALITY: u8 = 85;

/// A photograph written anew.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CleanPhotograph {
    /// The file, as JPEG; nothing is in it but the picture.
    pub bytes: Vec<u8>,
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
    /// The kind of file.
    pub media_type: &'static str,
    /// SHA-256 of the bytes, in hex.
    pub sha256: String,
}

/// Why a picture cannot be taken in.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum PhotographError {
    /// Neither of the two kinds that are read.
    #[error(
        "it is neither a JPEG nor a PNG picture; where a telephone writes another kind, such as HEIC, let it save or send the picture as JPEG"
    )]
    NotAPicture,
    /// More pixels than are read.
    #[error(
        "it has {width} × {height} pixels, and at most 52 million are read, no side longer than 20000; save it smaller and try again"
    )]
    TooLarge {
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
    },
    /// It needs more memory than is given.
    #[error("reading it would take more than 512 MiB of memory; save it smaller and try again")]
    TooMuch,
    /// It cannot be read to its end.
    #[error("it is damaged: {found}; copy it again from where it was taken")]
    Damaged {
        /// What is wrong.
        found: String,
    },
}

/// Reads a JPEG or PNG picture, turns it upright as its camera noted, makes it at most 1600 pixels long, and writes it
/// anew as JPEG. Place, time, camera and every other remark in the file are not carried over.
///
/// # Errors
/// It is no such picture, too large, or damaged.
pub fn read_photograph(bytes: &[u8]) -> Result<CleanPhotograph, PhotographError> {
    let paper = on_white(upright(bytes)?);
    let mut written = Vec::new();
    JpegEncoder::new_with_quality(&mut written, QUALITY)
        .encode_image(&paper)
        .map_err(told)?;
    Ok(CleanPhotograph {
        width: paper.width(),
        height: paper.height(),
        media_type: "image/jpeg",
        sha256: bytes_hash(&written),
        bytes: written,
    })
}

/// SHA-256 of bytes, in hex.
#[must_use]
pub fn bytes_hash(bytes: &[u8]) -> String {
    format!("{:x}", Sha256::digest(bytes))
}

/// The picture, small, with its top at the top.
fn upright(bytes: &[u8]) -> Result<DynamicImage, PhotographError> {
    let mut reader = ImageReader::new(Cursor::new(bytes))
        .with_guessed_format()
        .map_err(|_| PhotographError::NotAPicture)?;
    if !matches!(reader.format(), Some(ImageFormat::Jpeg | ImageFormat::Png)) {
        return Err(PhotographError::NotAPicture);
    }
    let mut limits = Limits::default();
    limits.max_alloc = Some(MOST_BYTES);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(told)?;
    let (width, height) = decoder.dimensions();
    let pixels = u64::from(width) * u64::from(height);
    if pixels > MOST_PIXELS || width.max(height) > LONGEST_READ {
        return Err(PhotographError::TooLarge { width, height });
    }
    // The reader's own limit does not count the pixels that it gives out.
    if decoder.total_bytes() > MOST_PIXEL_BYTES {
        return Err(PhotographError::TooMuch);
    }
    // A remark that cannot be read says nothing about where the top is.
    let orientation = decoder.orientation().ok();
    let picture = DynamicImage::from_decoder(decoder).map_err(told)?;
    // Turning takes a second copy, so that it comes after the shrinking.
    let mut picture = shrunk(picture);
    if let Some(orientation) = orientation {
        picture.apply_orientation(orientation);
    }
    Ok(picture)
}

fn shrunk(picture: DynamicImage) -> DynamicImage {
    if picture.width().max(picture.height()) > LONGEST_SIDE {
        picture.thumbnail(LONGEST_SIDE, LONGEST_SIDE)
    } else {
        picture
    }
}

/// The picture as if printed on white paper, because a JPEG knows nothing see-through.
fn on_white(picture: DynamicImage) -> RgbImage {
    if !picture.color().has_alpha() {
        return picture.into_rgb8();
    }
    let clear = picture.into_rgba8();
    RgbImage::from_fn(clear.width(), clear.height(), |x, y| {
        let [red, green, blue, alpha] = clear.get_pixel(x, y).0;
        let mixed = |of: u8| {
            let sum = u32::from(of) * u32::from(alpha) + 255 * (255 - u32::from(alpha));
            u8::try_from(sum / 255).unwrap_or(u8::MAX)
        };
        image::Rgb([red, green, blue].map(mixed))
    })
}

fn told(error: ImageError) -> PhotographError {
    match error {
        ImageError::Limits(_) => PhotographError::TooMuch,
        other => PhotographError::Damaged {
            found: other.to_string().chars().take(200).collect(),
        },
    }
}

#[cfg(test)]
mod tests {
    use image::Rgb;
    use image::Rgba;
    use image::RgbaImage;
    use proptest::prelude::*;

    use super::*;

    /// A picture of which every corner has its colour: red, green, blue, white.
    fn corners(width: u32, height: u32) -> DynamicImage {
        DynamicImage::ImageRgb8(RgbImage::from_fn(width, height, |x, y| {
            match (x < width / 2, y < height / 2) {
                (true, true) => Rgb([255, 0, 0]),
                (false, true) => Rgb([0, 255, 0]),
                (true, false) => Rgb([0, 0, 255]),
                (false, false) => Rgb([255, 255, 255]),
            }
        }))
    }

    fn file(picture: &DynamicImage, format: ImageFormat) -> Vec<u8> {
        let mut bytes = Cursor::new(Vec::new());
        picture.write_to(&mut bytes, format).unwrap();
        bytes.into_inner()
    }

    /// An APP1 segment of JPEG (ITU-T T.81, B.2.4.6): marker, length with itself, content.
    fn segment(content: &[u8]) -> Vec<u8> {
        let length = u16::try_from(content.len() + 2).unwrap();
        [&[0xff, 0xe1], &length.to_be_bytes()[..], content].concat()
    }

    /// One entry of a TIFF directory (TIFF 6.0, section 2), little-endian.
    fn entry(tag: u16, kind: u16, count: u32, value: [u8; 4]) -> Vec<u8> {
        let head = [tag.to_le_bytes(), kind.to_le_bytes()].concat();
        [&head[..], &count.to_le_bytes(), &value].concat()
    }

    /// Exif (CIPA DC-008): the camera's name, orientation, and a GPS directory with latitude.
    fn exif(orientation: u8) -> Vec<u8> {
        let mut tiff = b"II*\0\x08\0\0\0".to_vec();
        tiff.extend(3_u16.to_le_bytes());
        tiff.extend(entry(0x010f, 2, 10, 50_u32.to_le_bytes()));
        tiff.extend(entry(0x0112, 3, 1, [orientation, 0, 0, 0]));
        tiff.extend(entry(0x8825, 4, 1, 60_u32.to_le_bytes()));
        tiff.extend([0; 4]);
        tiff.extend(b"Kettlecam\0");
        assert_eq!(tiff.len(), 60);
        tiff.extend(2_u16.to_le_bytes());
        tiff.extend(entry(0x0001, 2, 2, *b"N\0\0\0"));
        tiff.extend(entry(0x0002, 5, 3, 90_u32.to_le_bytes()));
        tiff.extend([0; 4]);
        for part in [51_u32, 1, 28, 1, 40_123, 1_000] {
            tiff.extend(part.to_le_bytes());
        }
        [b"Exif\0\0", &tiff[..]].concat()
    }

    /// A JPEG with Exif and XMP right after its first marker.
    fn telling(orientation: u8) -> Vec<u8> {
        let plain = file(&corners(64, 48), ImageFormat::Jpeg);
        let xmp = b"http://ns.adobe.com/xap/1.0/\0<x:xmpmeta>exif:GPSLatitude=51,28.67N Kettlecam</x:xmpmeta>";
        [
            &plain[..2],
            &segment(&exif(orientation)),
            &segment(xmp),
            &plain[2..],
        ]
        .concat()
    }

    fn holds(bytes: &[u8], wanted: &[u8]) -> bool {
        bytes.windows(wanted.len()).any(|it| it == wanted)
    }

    /// The markers of a JPEG before its picture begins (ITU-T T.81, table B.1).
    fn markers(bytes: &[u8]) -> Vec<u8> {
        let mut found = Vec::new();
        let mut at = 2;
        while bytes[at] == 0xff && bytes[at + 1] != 0xda {
            found.push(bytes[at + 1]);
            at += 2 + usize::from(u16::from_be_bytes([bytes[at + 2], bytes[at + 3]]));
        }
        found
    }

    #[test]
    fn place_camera_and_remarks_do_not_come_through() {
        let told = telling(1);
        for part in [
            &b"Exif"[..],
            b"Kettlecam",
            b"GPSLatitude",
            &40_123_u32.to_le_bytes(),
        ] {
            assert!(holds(&told, part));
        }
        let clean = read_photograph(&told).unwrap();
        for part in [
            &b"Exif"[..],
            b"Kettlecam",
            b"GPS",
            b"xmp",
            &40_123_u32.to_le_bytes(),
        ] {
            assert!(!holds(&clean.bytes, part));
        }
        // APP1 to APP15 and comments are where remarks stand; APP0 says that it is a JFIF file.
        let kept = markers(&clean.bytes);
        assert!(
            kept.iter()
                .all(|it| !(0xe1..=0xef).contains(it) && *it != 0xfe),
            "{kept:x?}"
        );
        assert_eq!((clean.width, clean.height), (64, 48));
        assert_eq!(clean.sha256, bytes_hash(&clean.bytes));
    }

    #[test]
    fn the_camera_held_upright_is_minded() {
        // Exif orientation 6: the row that comes first is the right-hand side of the picture (CIPA DC-008, 4.6.4).
        let clean = read_photograph(&telling(6)).unwrap();
        assert_eq!((clean.width, clean.height), (48, 64));
        let picture = image::load_from_memory(&clean.bytes).unwrap().into_rgb8();
        let near = |x, y, wanted: [u8; 3]| {
            let found = picture.get_pixel(x, y).0;
            assert!(
                found
                    .iter()
                    .zip(wanted)
                    .all(|(one, other)| one.abs_diff(other) < 60),
                "{found:?} for {wanted:?}"
            );
        };
        near(40, 8, [255, 0, 0]);
        near(40, 56, [0, 255, 0]);
        near(8, 8, [0, 0, 255]);
    }

    #[test]
    fn a_large_picture_becomes_small_and_keeps_its_shape() {
        let clean = read_photograph(&file(&corners(3_200, 1_200), ImageFormat::Png)).unwrap();
        assert_eq!((clean.width, clean.height), (1_600, 600));
        assert_eq!(clean.media_type, "image/jpeg");
        let again = read_photograph(&clean.bytes).unwrap();
        assert_eq!((again.width, again.height), (1_600, 600));
    }

    #[test]
    fn what_is_see_through_becomes_white() {
        let clear = RgbaImage::from_pixel(8, 8, Rgba([0, 0, 0, 0]));
        let clean = read_photograph(&file(&clear.into(), ImageFormat::Png)).unwrap();
        let picture = image::load_from_memory(&clean.bytes).unwrap().into_rgb8();
        assert!(picture.get_pixel(4, 4).0.iter().all(|it| *it > 250));
    }

    #[test]
    fn no_picture_and_a_bomb_of_pixels_are_refused_in_a_sentence() {
        for bytes in [&b""[..], b"GIF89a", b"a shopping list", &[0xff, 0xd8]] {
            assert!(read_photograph(bytes).is_err());
        }
        // A PNG head (ISO/IEC 15948, 11.2.2) that says 30000 × 30000 pixels.
        let mut png = file(&corners(2, 2), ImageFormat::Png);
        png[16..20].copy_from_slice(&30_000_u32.to_be_bytes());
        png[20..24].copy_from_slice(&30_000_u32.to_be_bytes());
        let crc = crc_of(&png[12..29]);
        png[29..33].copy_from_slice(&crc.to_be_bytes());
        let refused = read_photograph(&png).unwrap_err();
        assert!(
            matches!(
                refused,
                PhotographError::TooLarge { .. } | PhotographError::TooMuch
            ),
            "{refused:?}"
        );
    }

    /// A PNG head (ISO/IEC 15948, 11.2.2) that says so many pixels of this depth and colour type, over the rest of a
    /// small picture.
    fn png_saying(width: u32, height: u32, depth: u8, colour: u8) -> Vec<u8> {
        let mut png = file(&corners(2, 2), ImageFormat::Png);
        png[16..20].copy_from_slice(&width.to_be_bytes());
        png[20..24].copy_from_slice(&height.to_be_bytes());
        (png[24], png[25]) = (depth, colour);
        let crc = crc_of(&png[12..29]);
        png[29..33].copy_from_slice(&crc.to_be_bytes());
        png
    }

    #[test]
    fn pixels_that_would_fill_half_the_memory_are_refused_before_they_are_read() {
        // Colour type 6 at 16 bits is 8 bytes a pixel (ISO/IEC 15948, table 11.1): 7000 × 7000 pixels are 392 MB, 5000 ×
        // 5000 are 200 MB, and half of 512 MiB is 268 MB.
        let refused = read_photograph(&png_saying(7_000, 7_000, 16, 6)).unwrap_err();
        assert_eq!(refused, PhotographError::TooMuch);
        let broken = read_photograph(&png_saying(5_000, 5_000, 16, 6)).unwrap_err();
        assert!(
            matches!(broken, PhotographError::Damaged { .. }),
            "{broken:?}"
        );
    }

    #[test]
    fn a_large_picture_that_was_held_upright_is_turned_and_small() {
        // Orientation 6 turns 3200 × 1200 pixels into 1200 × 3200 (CIPA DC-008, 4.6.4).
        let plain = file(&corners(3_200, 1_200), ImageFormat::Jpeg);
        let turned = [&plain[..2], &segment(&exif(6)), &plain[2..]].concat();
        let clean = read_photograph(&turned).unwrap();
        assert_eq!((clean.width, clean.height), (600, 1_600));
    }

    /// CRC-32 as PNG has it (ISO/IEC 15948, annex D).
    fn crc_of(bytes: &[u8]) -> u32 {
        !bytes.iter().fold(u32::MAX, |crc, byte| {
            (0..8).fold(crc ^ u32::from(*byte), |crc, _| {
                (crc >> 1) ^ (0xedb8_8320 * (crc & 1))
            })
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2_000))]

        #[test]
        fn no_slip_in_a_picture_and_no_bytes_at_all_break_the_reader(
            format in prop_oneof![Just(ImageFormat::Jpeg), Just(ImageFormat::Png)],
            slips in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..12),
            cut in proptest::option::of(any::<prop::sample::Index>()),
            head in any::<bool>(),
        ) {
            let mut bytes = match format {
                ImageFormat::Jpeg => telling(3),
                other => file(&corners(24, 16), other),
            };
            for (at, byte) in slips {
                // Most of what can go wrong is said in the first bytes.
                let length = if head { bytes.len().min(64) } else { bytes.len() };
                bytes[at.index(length)] = byte;
            }
            if let Some(cut) = cut {
                bytes.truncate(cut.index(bytes.len()));
            }
            if let Ok(clean) = read_photograph(&bytes) {
                prop_assert!(clean.width.max(clean.height) <= LONGEST_SIDE);
                prop_assert!(!holds(&clean.bytes, b"Kettlecam"));
            }
        }

        #[test]
        fn arbitrary_bytes_are_no_photograph(bytes in proptest::collection::vec(any::<u8>(), 0..600)) {
            prop_assert!(read_photograph(&bytes).is_err());
        }
    }
}
