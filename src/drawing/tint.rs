//! The hues of a round, evenly spaced at equal lightness, and what stands for them where colours are few.

use std::sync::LazyLock;

use palette::FromColor;
use palette::Oklab;
use palette::Oklch;
use palette::Srgb;

/// A colour with what stands for it in 256 and in 16 colours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tint {
    /// As sRGB.
    pub rgb: [u8; 3],
    /// The entry of the xterm palette, 16 to 255.
    pub palette: u8,
    /// One of the sixteen names, in the order of ECMA-48 and then the bright ones.
    pub named: u8,
}

/// How a piece is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shade {
    /// As it is; neighbours on one ring take turns.
    Turn(usize),
    /// What the next key acts on.
    Chosen,
    /// A step of heat, from 0 to [`HEAT_STEPS`].
    Heat(usize),
}

/// The hottest step of heat.
pub const HEAT_STEPS: usize = 4;

/// The sixteen names for thirteen hues: twice round, dark and bright, so that neighbours never share a hue.
const NAMED_ROUND: [u8; 13] = [1, 3, 2, 6, 4, 5, 9, 11, 10, 14, 12, 13, 7];

/// What is shown for the names by default (XTerm-col.ad of xterm): red, green and blue.
const NAMED: [[u8; 3]; 16] = [
    [0, 0, 0],
    [205, 0, 0],
    [0, 205, 0],
    [205, 205, 0],
    [0, 0, 238],
    [205, 0, 205],
    [0, 205, 205],
    [229, 229, 229],
    [127, 127, 127],
    [255, 0, 0],
    [0, 255, 0],
    [255, 255, 0],
    [92, 92, 255],
    [255, 0, 255],
    [0, 255, 255],
    [255, 255, 255],
];

/// The xterm palette from entry 16 on: the cube (256colres.h of xterm), then the greys.
static PALETTE: LazyLock<Vec<[u8; 3]>> = LazyLock::new(|| {
    const CUBE: [u8; 6] = [0, 95, 135, 175, 215, 255];
    let cube = CUBE.iter().flat_map(|red| {
        let of_red = CUBE.iter().map(move |green| (*red, *green));
        of_red.flat_map(|(red, green)| CUBE.iter().map(move |blue| [red, green, *blue]))
    });
    cube.chain((0..24).map(|step| [8 + 10 * step; 3])).collect()
});

/// The palette in the space where distances are those of the eye.
static SEEN: LazyLock<Vec<Oklab>> =
    LazyLock::new(|| PALETTE.iter().map(|rgb| seen(*rgb)).collect());

/// Relative luminance from which black is read more easily than white: where both have the same
/// contrast, (L + 0.05)² = 1.05 · 0.05 (WCAG 2.2, "contrast ratio").
const BLACK_FROM: f64 = 0.179;

/// Black.
const BLACK: Tint = Tint {
    rgb: [0, 0, 0],
    palette: 16,
    named: 0,
};
/// White.
const WHITE: Tint = Tint {
    rgb: [255, 255, 255],
    palette: 231,
    named: 15,
};

impl Tint {
    /// The hue at a place of a round with so many, in a shade.
    #[must_use]
    pub fn of(hue: usize, hues: usize, shade: Shade) -> Self {
        Self {
            rgb: oklch(hue, hues, lightness_and_chroma(shade)),
            palette: entry(hue, hues, shade),
            named: named(hue, shade),
        }
    }

    /// Black or white, whichever is read more easily on it, at each depth of colour.
    #[must_use]
    pub fn text(self) -> Self {
        let on = |rgb: [u8; 3]| {
            if luminance(rgb) > BLACK_FROM {
                BLACK
            } else {
                WHITE
            }
        };
        Self {
            rgb: on(self.rgb).rgb,
            palette: on(self.palette_rgb()).palette,
            named: on(NAMED[usize::from(self.named % 16)]).named,
        }
    }

    /// The channels of its entry in the xterm palette.
    #[must_use]
    pub fn palette_rgb(self) -> [u8; 3] {
        let entry = usize::from(self.palette).saturating_sub(16);
        PALETTE.get(entry).copied().unwrap_or(self.rgb)
    }
}

/// The step of an amount of heat from 0 to 1: 0 where nothing is known, and at least 1 for a known 0.
#[must_use]
pub fn heat_step(heat: Option<f64>) -> usize {
    let reached = |heat: f64| {
        let above = |step: &usize| heat > (*step as f64 - 1.0) / HEAT_STEPS as f64;
        (2..=HEAT_STEPS).rev().find(above).unwrap_or(1)
    };
    heat.map_or(0, reached)
}

/// Lightness and chroma of a shade on a screen; the same for every hue.
fn lightness_and_chroma(shade: Shade) -> [f32; 2] {
    match shade {
        Shade::Turn(turn) if turn.is_multiple_of(2) => [0.72, 0.095],
        Shade::Turn(_) => [0.62, 0.095],
        Shade::Chosen => [0.93, 0.04],
        Shade::Heat(0) => [0.36, 0.015],
        Shade::Heat(1) => [0.47, 0.05],
        Shade::Heat(2) => [0.57, 0.075],
        Shade::Heat(3) => [0.67, 0.1],
        Shade::Heat(_) => [0.78, 0.12],
    }
}

/// A hue at a lightness and chroma, as sRGB; the hues stand evenly round the circle of OKLCH
/// (Ottosson 2020).
#[must_use]
pub fn oklch(hue: usize, hues: usize, [lightness, chroma]: [f32; 2]) -> [u8; 3] {
    // Half a step on, so that no hue is one of the pure ones.
    let turn = (hue as f32 + 0.5) / hues.max(1) as f32;
    let colour = Srgb::from_color(Oklch::new(lightness, chroma, 360.0 * turn));
    colour.into_format::<u8>().into()
}

/// The nearest entry of the palette. Places are told apart by their hue, so of two hues in the same
/// turn the later one takes the nearest entry that is left.
fn entry(hue: usize, hues: usize, shade: Shade) -> u8 {
    let mut taken = Vec::new();
    let first = match shade {
        Shade::Turn(_) => 0,
        Shade::Chosen | Shade::Heat(_) => hue,
    };
    for hue in first..=hue {
        let wanted = seen(oklch(hue, hues, lightness_and_chroma(shade)));
        let left = (16..=255_u8).zip(SEEN.iter());
        let left = left.filter(|it| !taken.contains(&it.0));
        let nearest = left.min_by(|a, b| apart(*a.1, wanted).total_cmp(&apart(*b.1, wanted)));
        taken.extend(nearest.map(|it| it.0));
    }
    taken.last().copied().unwrap_or(231)
}

fn seen(rgb: [u8; 3]) -> Oklab {
    Oklab::from_color(Srgb::from(rgb).into_format::<f32>())
}

fn apart(one: Oklab, other: Oklab) -> f32 {
    (one.l - other.l).powi(2) + (one.a - other.a).powi(2) + (one.b - other.b).powi(2)
}

/// Relative luminance, 0 to 1 (WCAG 2.2; IEC 61966-2-1).
fn luminance(rgb: [u8; 3]) -> f64 {
    let linear = rgb.map(|channel| {
        let value = f64::from(channel) / 255.0;
        if value <= 0.04045 {
            value / 12.92
        } else {
            ((value + 0.055) / 1.055).powf(2.4)
        }
    });
    0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
}

/// The name that stands for a hue in a shade.
fn named(hue: usize, shade: Shade) -> u8 {
    let name = NAMED_ROUND[hue % NAMED_ROUND.len()];
    let dark = name % 8;
    match shade {
        Shade::Turn(turn) if turn.is_multiple_of(2) => name,
        // Grey has no other half but the dark grey; white is what is chosen.
        Shade::Turn(_) if name == 7 => 8,
        Shade::Turn(_) => name ^ 8,
        Shade::Chosen => 15,
        Shade::Heat(0) => 8,
        Shade::Heat(1 | 2) => dark,
        Shade::Heat(_) if name == 7 => 7,
        Shade::Heat(_) => dark + 8,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The thirteen hues in every shade.
    fn tints(shade: Shade) -> Vec<Tint> {
        (0..13).map(|hue| Tint::of(hue, 13, shade)).collect()
    }

    #[test]
    fn hues_are_evenly_spaced_at_equal_lightness() {
        let turns: Vec<Oklch> = tints(Shade::Turn(0))
            .iter()
            .map(|it| Oklch::from_color(seen(it.rgb)))
            .collect();
        for (index, it) in turns.iter().enumerate() {
            // Eight bits a channel and the edge of sRGB leave about a hundredth.
            assert!((it.l - 0.72).abs() < 0.012, "{index}: {it:?}");
            let next = turns[(index + 1) % 13];
            let step = (next.hue - it.hue).into_positive_degrees();
            assert!((step - 360.0 / 13.0).abs() < 3.0, "{index}: {step}");
        }
    }

    #[test]
    fn neighbours_differ_at_every_depth_and_no_hue_stands_twice() {
        let turns = tints(Shade::Turn(0));
        for (index, it) in turns.iter().enumerate() {
            for other in &turns[index + 1..] {
                assert_ne!(it.rgb, other.rgb);
                assert_ne!(it.palette, other.palette, "{it:?} {other:?}");
                assert_ne!(it.named, other.named, "{it:?} {other:?}");
            }
        }
    }

    #[test]
    fn what_is_chosen_and_every_step_of_heat_look_different() {
        let shades = [
            Shade::Chosen,
            Shade::Turn(0),
            Shade::Turn(1),
            Shade::Heat(0),
            Shade::Heat(2),
            Shade::Heat(4),
        ];
        for hue in 0..13 {
            let chosen = Tint::of(hue, 13, shades[0]);
            for shade in &shades[1..] {
                let it = Tint::of(hue, 13, *shade);
                assert_ne!(it.palette, chosen.palette, "{hue} {shade:?}");
                assert_ne!(it.named, chosen.named, "{hue} {shade:?}");
            }
            let heat: Vec<u8> = (0..=HEAT_STEPS)
                .map(|step| Tint::of(hue, 13, Shade::Heat(step)).palette)
                .collect();
            assert!(heat.windows(2).all(|it| it[0] != it[1]), "{hue} {heat:?}");
        }
    }

    #[test]
    fn nothing_known_is_no_zero() {
        let steps = [0.0, 0.01, 0.25, 0.26, 0.5, 0.75, 0.76, 1.0].map(Some);
        assert_eq!(steps.map(heat_step), [1, 1, 1, 2, 2, 3, 4, 4]);
        assert_eq!(heat_step(None), 0);
    }

    #[test]
    fn text_on_a_tint_is_black_or_white_by_contrast() {
        // Contrast by WCAG 2.2 on pure red: black 5.25 : 1, white 4.00 : 1; on (0, 0, 238): white 9.4 : 1.
        let red = Tint {
            rgb: [255, 0, 0],
            palette: 196,
            named: 9,
        };
        assert_eq!((red.text().rgb, red.text().named), ([0; 3], 0));
        let blue = Tint {
            rgb: [0, 0, 238],
            palette: 21,
            named: 4,
        };
        assert_eq!((blue.text().rgb, blue.text().named), ([255; 3], 15));
    }
}
