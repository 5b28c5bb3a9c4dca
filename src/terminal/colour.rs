//! A colour as the drawing wants it, and the nearest one a terminal has.

use crate::terminal::ColourDepth;

/// A colour of the front or the back of a cell.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Colour {
    /// Whatever the terminal's owner chose.
    Default,
    /// One of the sixteen named colours, 0 to 15 in the order of ECMA-48 and then the bright ones.
    Named(u8),
    /// An entry of the xterm palette, 16 to 255.
    Palette(u8),
    /// Red, green and blue.
    Rgb(u8, u8, u8),
}

/// What xterm shows for the sixteen names (XTerm-col.ad, the defaults of its resource file).
const NAMED: [(u8, u8, u8); 16] = [
    (0, 0, 0),
    (205, 0, 0),
    (0, 205, 0),
    (205, 205, 0),
    (0, 0, 238),
    (205, 0, 205),
    (0, 205, 205),
    (229, 229, 229),
    (127, 127, 127),
    (255, 0, 0),
    (0, 255, 0),
    (255, 255, 0),
    (92, 92, 255),
    (255, 0, 255),
    (0, 255, 255),
    (255, 255, 255),
];

/// The six steps of the palette's cube (256colres.h of xterm).
const CUBE: [u8; 6] = [0, 95, 135, 175, 215, 255];

/// Difference of the strongest and the weakest channel from which a colour counts as coloured;
/// below it the greys are nearer. Judgement: brewing browns stay brown, foam stays white.
const COLOURED_FROM: u8 = 48;

/// Brightness of the strongest channel from which the bright half of the names is taken. Judgement.
const BRIGHT_FROM: u8 = 216;

impl Colour {
    /// The nearest colour that a terminal of this depth shows.
    #[must_use]
    pub fn quantised(self, depth: ColourDepth) -> Self {
        match (depth, self) {
            (ColourDepth::Mono, _) | (_, Self::Default) => Self::Default,
            (_, Self::Named(_))
            | (ColourDepth::True, _)
            | (ColourDepth::Palette256, Self::Palette(_)) => self,
            (ColourDepth::Palette256, Self::Rgb(red, green, blue)) => {
                Self::Palette(nearest_of_256(red, green, blue))
            }
            (ColourDepth::Sixteen, _) => {
                let (red, green, blue) = self.channels().unwrap_or_default();
                Self::Named(nearest_of_16(red, green, blue))
            }
        }
    }

    /// Red, green and blue; None for the terminal's own colour, which is not known.
    fn channels(self) -> Option<(u8, u8, u8)> {
        match self {
            Self::Default => None,
            Self::Named(index) => Some(NAMED[usize::from(index % 16)]),
            Self::Palette(index) => Some(palette_entry(index)),
            Self::Rgb(red, green, blue) => Some((red, green, blue)),
        }
    }

    /// Black or white, whichever is read more easily on this colour; weights of ITU-R BT.601.
    #[must_use]
    pub fn opposite(self) -> Self {
        let (red, green, blue) = self.channels().unwrap_or_default();
        let luma = 299 * u32::from(red) + 587 * u32::from(green) + 114 * u32::from(blue);
        if luma > 127_500 {
            Self::Named(0)
        } else {
            Self::Named(15)
        }
    }

    /// The numbers of the "select graphic rendition" sequence, after 3 (front) or 4 (back).
    pub(super) fn rendition(self, ground: Ground) -> String {
        let tens = match ground {
            Ground::Front => 3,
            Ground::Back => 4,
        };
        match self {
            Self::Default => format!("{tens}9"),
            Self::Named(index) if index < 8 => format!("{tens}{index}"),
            Self::Named(index) => format!("{}{}", tens + 6, index % 8),
            Self::Palette(index) => format!("{tens}8;5;{index}"),
            Self::Rgb(red, green, blue) => format!("{tens}8;2;{red};{green};{blue}"),
        }
    }
}

/// Which of the two colours of a cell is meant.
#[derive(Clone, Copy, Debug)]
pub(super) enum Ground {
    /// The character.
    Front,
    /// What is behind it.
    Back,
}

/// The channels of an entry of the xterm palette.
fn palette_entry(index: u8) -> (u8, u8, u8) {
    match index {
        0..=15 => NAMED[usize::from(index)],
        16..=231 => {
            let place = index - 16;
            let step = |number: u8| CUBE[usize::from(number % 6)];
            (step(place / 36), step(place / 6), step(place))
        }
        232..=255 => {
            let grey = 8 + 10 * (index - 232);
            (grey, grey, grey)
        }
    }
}

/// Squared distance of two colours.
fn distance(one: (u8, u8, u8), other: (u8, u8, u8)) -> u32 {
    let square = |a: u8, b: u8| u32::from(a.abs_diff(b)).pow(2);
    square(one.0, other.0) + square(one.1, other.1) + square(one.2, other.2)
}

/// The nearest entry of cube and greys; the sixteen names are left out, users change them.
fn nearest_of_256(red: u8, green: u8, blue: u8) -> u8 {
    (16..=255)
        .min_by_key(|index| distance(palette_entry(*index), (red, green, blue)))
        .expect("the range is not empty")
}

/// The nearest of the sixteen by a fixed rule: greys by brightness, everything coloured by its hue.
///
/// Plain distance turns most muted colours into grey and so mixes up what the hues keep apart.
fn nearest_of_16(red: u8, green: u8, blue: u8) -> u8 {
    let strongest = red.max(green).max(blue);
    let weakest = red.min(green).min(blue);
    if strongest - weakest < COLOURED_FROM {
        return match strongest {
            0..=63 => 0,
            64..=159 => 8,
            160..=239 => 7,
            240..=255 => 15,
        };
    }
    // A channel takes part when it is nearer to the strongest than to the weakest; the three bits
    // in the order red, green, blue are the ECMA-48 numbers of the six hues.
    let middle = weakest + (strongest - weakest) / 2;
    let bit = |channel: u8, weight: u8| if channel > middle { weight } else { 0 };
    let hue = bit(red, 1) + bit(green, 2) + bit(blue, 4);
    if strongest >= BRIGHT_FROM {
        hue + 8
    } else {
        hue
    }
}

#[cfg(test)]
mod tests {
    use super::Colour;
    use super::Ground;
    use crate::terminal::ColourDepth;

    #[test]
    fn entries_of_the_xterm_cube_and_its_greys_find_themselves() {
        // Numbers and channels from the public 256-colour chart of xterm (256colres.h).
        let chart = [
            (16, (0, 0, 0)),
            (21, (0, 0, 255)),
            (46, (0, 255, 0)),
            (94, (135, 95, 0)),
            (130, (175, 95, 0)),
            (196, (255, 0, 0)),
            (208, (255, 135, 0)),
            (231, (255, 255, 255)),
            (232, (8, 8, 8)),
            (244, (128, 128, 128)),
            (255, (238, 238, 238)),
        ];
        for (index, (red, green, blue)) in chart {
            let found = Colour::Rgb(red, green, blue).quantised(ColourDepth::Palette256);
            assert_eq!(found, Colour::Palette(index));
        }
    }

    #[test]
    fn the_six_hues_keep_their_names_with_sixteen_colours() {
        // ECMA-48, 8.3.117: 1 red, 2 green, 3 yellow, 4 blue, 5 magenta, 6 cyan.
        let pure = [
            ((200, 20, 20), 1),
            ((20, 180, 20), 2),
            ((190, 170, 10), 3),
            ((20, 20, 190), 4),
            ((180, 10, 180), 5),
            ((10, 180, 170), 6),
            ((255, 40, 40), 9),
            ((60, 255, 60), 10),
        ];
        for ((red, green, blue), expected) in pure {
            let found = Colour::Rgb(red, green, blue).quantised(ColourDepth::Sixteen);
            assert_eq!(found, Colour::Named(expected), "{red} {green} {blue}");
        }
    }

    #[test]
    fn muted_hues_do_not_become_grey_with_sixteen_colours() {
        for (red, green, blue) in [(150, 90, 80), (90, 150, 80), (90, 100, 160), (140, 60, 130)] {
            let found = Colour::Rgb(red, green, blue).quantised(ColourDepth::Sixteen);
            assert!(
                !matches!(found, Colour::Named(0 | 7 | 8 | 15)),
                "{red} {green} {blue}: {found:?}"
            );
        }
    }

    #[test]
    fn greys_go_from_black_to_white_with_sixteen_colours() {
        let found: Vec<Colour> = [0, 100, 200, 255]
            .map(|level| Colour::Rgb(level, level, level).quantised(ColourDepth::Sixteen))
            .to_vec();
        assert_eq!(found, [0, 8, 7, 15].map(Colour::Named));
    }

    #[test]
    fn palette_entries_come_down_to_sixteen_too() {
        assert_eq!(
            Colour::Palette(196).quantised(ColourDepth::Sixteen),
            Colour::Named(9)
        );
    }

    #[test]
    fn without_colours_everything_is_the_default() {
        for colour in [Colour::Named(3), Colour::Palette(99), Colour::Rgb(1, 2, 3)] {
            assert_eq!(colour.quantised(ColourDepth::Mono), Colour::Default);
        }
    }

    #[test]
    fn true_colour_changes_nothing() {
        let colour = Colour::Rgb(12, 34, 56);
        assert_eq!(colour.quantised(ColourDepth::True), colour);
    }

    #[test]
    fn text_on_a_bright_ground_is_black_and_on_a_dark_one_white() {
        assert_eq!(Colour::Rgb(250, 240, 200).opposite(), Colour::Named(0));
        assert_eq!(Colour::Rgb(40, 20, 10).opposite(), Colour::Named(15));
    }

    #[test]
    fn renditions_are_those_of_the_standard_and_of_xterm() {
        // ECMA-48, 8.3.117 for 30-37, 39, 40-47, 49; xterm's control sequences for 90-107 and 38/48.
        assert_eq!(Colour::Default.rendition(Ground::Front), "39");
        assert_eq!(Colour::Named(1).rendition(Ground::Front), "31");
        assert_eq!(Colour::Named(9).rendition(Ground::Front), "91");
        assert_eq!(Colour::Named(4).rendition(Ground::Back), "44");
        assert_eq!(Colour::Named(12).rendition(Ground::Back), "104");
        assert_eq!(Colour::Palette(208).rendition(Ground::Front), "38;5;208");
        assert_eq!(Colour::Rgb(1, 2, 3).rendition(Ground::Back), "48;2;1;2;3");
    }
}
