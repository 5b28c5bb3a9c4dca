//! How wide and high a JPEG picture is, read from its own head.

/// Width and height in pixels, as they are stored; none where the bytes are no whole JPEG head.
///
/// The frame header: a marker SOF0 to SOF15, but for the tables DHT, JPG and DAC among them, and then length,
/// precision, height and width (ITU-T T.81, B.2.2).
#[must_use]
pub fn jpeg_size(bytes: &[u8]) -> Option<[u16; 2]> {
    let mut rest = bytes.strip_prefix(&[0xff, 0xd8])?;
    loop {
        let [0xff, marker, high, low, after @ ..] = rest else {
            return None;
        };
        let is_frame = (0xc0..=0xcf).contains(marker) && ![0xc4, 0xc8, 0xcc].contains(marker);
        if is_frame {
            let [_, tall, less, wide, least, ..] = after else {
                return None;
            };
            let size = [[*wide, *least], [*tall, *less]].map(u16::from_be_bytes);
            return size.iter().all(|it| *it > 0).then_some(size);
        }
        let length = usize::from(u16::from_be_bytes([*high, *low]));
        rest = after.get(length.checked_sub(2)?..)?;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_frame_header_behind_other_segments_tells_the_size_and_nonsense_tells_none() {
        // By ITU-T T.81, B.2.2: Lf = 11, P = 8, Y = 600, X = 800, one component.
        let mut bytes = vec![0xff, 0xd8, 0xff, 0xe0, 0, 4, 1, 2, 0xff, 0xc0, 0, 11, 8];
        bytes.extend([0x02, 0x58, 0x03, 0x20, 1, 1, 0x11, 0]);
        assert_eq!(jpeg_size(&bytes), Some([800, 600]));
        for end in 0..17 {
            assert_eq!(jpeg_size(&bytes[..end]), None, "{end}");
        }
        bytes[5] = 1;
        assert_eq!(jpeg_size(&bytes), None);
    }
}
