//! The colour an average beer shows in daylight through a given path.

use crate::brewing::colour::srm_from_ebc;

/// SRM units per unit of absorbance at 430 nm in 1 cm (ASBC Beer-10A).
const SRM_PER_ABSORBANCE: f64 = 12.7;

/// First and last wavelength of the sum over the visible, nm, and its step.
const FIRST_NM: f64 = 380.0;
const STEP_NM: f64 = 5.0;

/// CIE standard illuminant D65, relative power at 380 to 780 nm every 10 nm (CIE 15, from memory).
/// CIE gives the steps between as straight lines.
const D65: [f64; 41] = [
    49.9755, 54.6482, 82.7549, 91.4860, 93.4318, 86.6823, 104.865, 117.008, 117.812, 114.861,
    115.923, 108.811, 109.354, 107.802, 104.790, 107.689, 104.405, 104.046, 100.000, 96.3342,
    95.7880, 88.6856, 90.0062, 89.5991, 87.6987, 83.2886, 83.6992, 80.0268, 80.2146, 82.2778,
    78.2842, 69.7213, 71.6091, 74.3490, 61.6040, 69.8856, 75.0870, 63.5927, 46.4182, 66.8054,
    63.3828,
];

/// One bell of a fit: height, wavelength of the top, and the inverse widths left and right of it.
struct Lobe(f64, f64, f64, f64);

/// CIE 1931 2° colour matching functions as sums of bells (Wyman, Sloan & Shirley 2013,
/// J. Computer Graphics Techniques 2(2):1-11, multi-lobe fits; from memory).
const X_BAR: [Lobe; 3] = [
    Lobe(0.362, 442.0, 0.0624, 0.0374),
    Lobe(1.056, 599.8, 0.0264, 0.0323),
    Lobe(-0.065, 501.1, 0.0490, 0.0382),
];
const Y_BAR: [Lobe; 2] = [
    Lobe(0.821, 568.8, 0.0213, 0.0247),
    Lobe(0.286, 530.9, 0.0613, 0.0322),
];
const Z_BAR: [Lobe; 2] = [
    Lobe(1.217, 437.0, 0.0845, 0.0278),
    Lobe(0.681, 459.0, 0.0385, 0.0725),
];

/// XYZ to linear sRGB (IEC 61966-2-1).
const XYZ_TO_RGB: [[f64; 3]; 3] = [
    [3.240_454_2, -1.537_138_5, -0.498_531_4],
    [-0.969_266_0, 1.876_010_8, 0.041_556_0],
    [0.055_643_4, -0.204_025_9, 1.057_225_2],
];

/// Absorbance of the average beer at a wavelength over that at 430 nm.
///
/// Mean of 99 beers (deLange, "Color", in Bamforth (ed.), *Brewing Materials and Processes*, 2016).
/// Fruit beers do not fit it. Meant for 380 to 780 nm; a finite positive number for any finite one
/// above 0.
#[must_use]
fn absorbance_ratio(nanometres: f64) -> f64 {
    let past = nanometres - 430.0;
    0.024_65 * (-past / 17.591).exp() + 0.975_35 * (-past / 82.122).exp()
}

/// Share of the light of one wavelength (380 to 780 nm) a beer of a colour lets through a path.
///
/// A colour or path below 0, or that is no number, counts as 0: all light passes.
#[must_use]
fn transmission(nanometres: f64, ebc: f64, path_cm: f64) -> f64 {
    let thickness = srm_from_ebc(ebc.max(0.0)) / SRM_PER_ABSORBANCE * path_cm.max(0.0);
    10.0_f64.powf(-thickness * absorbance_ratio(nanometres))
}

/// The 8-bit sRGB colour of a clear beer of so many EBC units in daylight (D65), seen through so
/// many centimetres against white. Colours a screen cannot show are clipped channel by channel.
///
/// A colour or path below 0, or that is no number, counts as 0 and gives white; an endless one
/// gives black.
#[must_use]
pub fn seen_colour(ebc: f64, path_cm: f64) -> [u8; 3] {
    let xyz = tristimulus(ebc, path_cm);
    XYZ_TO_RGB.map(|row| {
        let linear: f64 = row
            .iter()
            .zip(xyz)
            .map(|(factor, value)| factor * value)
            .sum();
        eight_bit(linear.clamp(0.0, 1.0))
    })
}

/// CIE 1931 XYZ of the light that comes through, with Y = 1 for the light without the beer.
fn tristimulus(ebc: f64, path_cm: f64) -> [f64; 3] {
    let mut through = [0.0; 3];
    let mut white = 0.0;
    let mut nanometres = FIRST_NM;
    for power in d65_every_5_nm() {
        let passed = power * transmission(nanometres, ebc, path_cm);
        white += power * matching(&Y_BAR, nanometres);
        through[0] += passed * matching(&X_BAR, nanometres);
        through[1] += passed * matching(&Y_BAR, nanometres);
        through[2] += passed * matching(&Z_BAR, nanometres);
        nanometres += STEP_NM;
    }
    through.map(|sum| sum / white)
}

/// D65 from 380 to 780 nm in steps of 5.
fn d65_every_5_nm() -> impl Iterator<Item = f64> {
    let steps = D65
        .windows(2)
        .flat_map(|pair| [pair[0], f64::midpoint(pair[0], pair[1])]);
    steps.chain([D65[D65.len() - 1]])
}

/// A colour matching function at a wavelength.
fn matching(lobes: &[Lobe], nanometres: f64) -> f64 {
    lobes
        .iter()
        .map(|Lobe(height, top, left, right)| {
            let away = nanometres - top;
            let spread = away * if away < 0.0 { left } else { right };
            height * (-0.5 * spread * spread).exp()
        })
        .sum()
}

/// The sRGB byte of a linear value from 0 to 1 (IEC 61966-2-1).
fn eight_bit(linear: f64) -> u8 {
    let encoded = if linear <= 0.003_130_8 {
        12.92 * linear
    } else {
        1.055 * linear.powf(1.0 / 2.4) - 0.055
    };
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a value from 0 to 1 gives 0 to 255"
    )]
    let byte = (255.0 * encoded).round() as u8;
    byte
}

#[cfg(test)]
mod tests {
    use proptest::prelude::proptest;
    use proptest::prop_assert;

    use super::absorbance_ratio;
    use super::seen_colour;
    use super::transmission;
    use super::tristimulus;

    const EBC_PER_SRM: f64 = 1.97;

    /// SRM, path in cm, XYZ and sRGB of the average beer, worked with the tabulated CIE 1931
    /// functions (not the fits used here) and D65; an open-source colour library gives the same XYZ.
    const WORKED: [(f64, f64, [f64; 3], [u8; 3]); 11] = [
        (2.0, 1.0, [0.8663, 0.9187, 0.8308], [253, 246, 223]),
        (6.0, 1.0, [0.7372, 0.7800, 0.4922], [249, 227, 170]),
        (20.0, 1.0, [0.4804, 0.4615, 0.0924], [231, 170, 49]),
        (1.0, 5.0, [0.7656, 0.8120, 0.5598], [250, 232, 182]),
        (2.0, 5.0, [0.6419, 0.6666, 0.2979], [244, 209, 128]),
        (4.0, 5.0, [0.4804, 0.4615, 0.0924], [231, 170, 49]),
        (6.0, 5.0, [0.3739, 0.3288, 0.0320], [217, 138, 0]),
        (10.0, 5.0, [0.2376, 0.1783, 0.0051], [186, 91, 0]),
        (15.0, 5.0, [0.1412, 0.0911, 0.0008], [153, 52, 0]),
        (20.0, 5.0, [0.0871, 0.0502, 0.0002], [125, 25, 0]),
        (30.0, 5.0, [0.0360, 0.0178, 0.0000], [84, 0, 0]),
    ];

    #[test]
    fn beers_are_seen_in_the_colours_worked_with_the_tabulated_functions() {
        for (srm, path_cm, _, expected) in WORKED {
            let got = seen_colour(srm * EBC_PER_SRM, path_cm);
            for (channel, wanted) in got.into_iter().zip(expected) {
                // 5 of 255 levels: what the bell-shaped fits cost against the table.
                assert!(
                    channel.abs_diff(wanted) <= 5,
                    "{srm} SRM, {path_cm} cm: {got:?}"
                );
            }
        }
    }

    #[test]
    fn the_light_that_passes_has_the_worked_tristimulus_values() {
        for (srm, path_cm, expected, _) in WORKED {
            let got = tristimulus(srm * EBC_PER_SRM, path_cm);
            for (value, wanted) in got.into_iter().zip(expected) {
                assert!(
                    (value - wanted).abs() < 0.01,
                    "{srm} SRM, {path_cm} cm: {got:?}"
                );
            }
        }
    }

    #[test]
    fn daylight_without_beer_is_the_white_of_d65() {
        // CIE 15: D65 has x = 0.3127, y = 0.3290 (XYZ 0.9504, 1, 1.0888). 0.002 covers the fits.
        let [x, y, z] = tristimulus(0.0, 5.0);
        let sum = x + y + z;
        assert!(
            (x / sum - 0.3127).abs() < 0.002 && (y / sum - 0.3290).abs() < 0.002,
            "{x} {y} {z}"
        );
    }

    #[test]
    fn an_average_beer_passes_the_test_for_clearness() {
        // ASBC Beer-10A: free of turbidity when A700 is at most 0.039 A430.
        assert!(absorbance_ratio(700.0) <= 0.039);
        assert!((absorbance_ratio(430.0) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn the_average_spectrum_has_the_ratios_worked_by_hand() {
        // Computed from deLange's published coefficients.
        for (nanometres, ratio) in [
            (380.0, 2.2159),
            (400.0, 1.541_11),
            (450.0, 0.772_43),
            (500.0, 0.416_34),
            (550.0, 0.226_26),
            (600.0, 0.123_07),
            (650.0, 0.066_94),
            (700.0, 0.036_42),
        ] {
            assert!(
                (absorbance_ratio(nanometres) - ratio).abs() < 0.000_06,
                "{nanometres} nm"
            );
        }
    }

    #[test]
    fn fifty_ebc_let_a_hundredth_through() {
        // deLange, slides on beer colour: EBC 50 is A430 = 2 in 1 cm, one part in a hundred.
        // 1.97 for 25 / 12.7 moves it by 0.5 %.
        assert!((transmission(430.0, 50.0, 1.0) - 0.01).abs() < 0.000_1);
    }

    #[test]
    fn nonsense_gives_white_or_black_and_never_a_panic() {
        let white = seen_colour(0.0, 1.0);
        assert_eq!(seen_colour(f64::NAN, 1.0), white);
        assert_eq!(seen_colour(20.0, f64::NAN), white);
        assert_eq!(seen_colour(-5.0, 1.0), white);
        assert_eq!(seen_colour(1e308, 1e308), [0, 0, 0]);
        assert!(white.iter().all(|channel| *channel >= 250), "{white:?}");
    }

    proptest! {
        #[test]
        fn only_colour_times_path_matters(ebc in 0.0..100.0_f64, path in 0.1..10.0_f64) {
            let thin = seen_colour(ebc * path, 1.0);
            let thick = seen_colour(ebc, path);
            // Rounding may tip a channel over the edge of a level.
            prop_assert!(thin.iter().zip(thick).all(|(a, b)| a.abs_diff(b) <= 1));
        }

        #[test]
        fn a_darker_beer_is_no_brighter(ebc in 0.0..150.0_f64, path in 0.1..10.0_f64) {
            let pale = seen_colour(ebc, path);
            let dark = seen_colour(ebc + 5.0, path);
            // Green and blue only fall; red may rise by a level or two where it leaves the gamut.
            prop_assert!(dark[1] <= pale[1] && dark[2] <= pale[2].saturating_add(1));
        }
    }

    #[test]
    fn the_matching_functions_are_as_near_to_the_table_as_their_authors_say() {
        // CIE 1931 2° colour matching functions, 380 to 780 nm every 10 nm (CIE 15, from memory).
        // Wyman, Sloan & Shirley 2013: the bells miss them by at most .0138, .0073 and .0221, with a
        // root mean square of .0060, .0029 and .0046.
        const X: [f64; 41] = [
            0.0014, 0.0042, 0.0143, 0.0435, 0.1344, 0.2839, 0.3483, 0.3362, 0.2908, 0.1954, 0.0956,
            0.0320, 0.0049, 0.0093, 0.0633, 0.1655, 0.2904, 0.4334, 0.5945, 0.7621, 0.9163, 1.0263,
            1.0622, 1.0026, 0.8544, 0.6424, 0.4479, 0.2835, 0.1649, 0.0874, 0.0468, 0.0227, 0.0114,
            0.0058, 0.0029, 0.0014, 0.0007, 0.0003, 0.0002, 0.0001, 0.0000,
        ];
        const Y: [f64; 41] = [
            0.0000, 0.0001, 0.0004, 0.0012, 0.0040, 0.0116, 0.0230, 0.0380, 0.0600, 0.0910, 0.1390,
            0.2080, 0.3230, 0.5030, 0.7100, 0.8620, 0.9540, 0.9950, 0.9950, 0.9520, 0.8700, 0.7570,
            0.6310, 0.5030, 0.3810, 0.2650, 0.1750, 0.1070, 0.0610, 0.0320, 0.0170, 0.0082, 0.0041,
            0.0021, 0.0010, 0.0005, 0.0002, 0.0001, 0.0001, 0.0000, 0.0000,
        ];
        const Z: [f64; 41] = [
            0.0065, 0.0201, 0.0679, 0.2074, 0.6456, 1.3856, 1.7471, 1.7721, 1.6692, 1.2876, 0.8130,
            0.4652, 0.2720, 0.1582, 0.0782, 0.0422, 0.0203, 0.0087, 0.0039, 0.0021, 0.0017, 0.0011,
            0.0008, 0.0003, 0.0002, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0,
            0.0, 0.0, 0.0, 0.0,
        ];
        for (lobes, table, most, usual) in [
            (&super::X_BAR[..], X, 0.0138, 0.0060),
            (&super::Y_BAR[..], Y, 0.0073, 0.0029),
            (&super::Z_BAR[..], Z, 0.0221, 0.0046),
        ] {
            let nanometres = (38..).map(|it| 10.0 * f64::from(it));
            let misses: Vec<f64> = nanometres
                .zip(table)
                .map(|(at, printed)| super::matching(lobes, at) - printed)
                .collect();
            // Half of the fourth place for the rounding of the table.
            let worst = misses.iter().map(|it| it.abs()).fold(0.0, f64::max);
            assert!(worst < most + 0.000_05, "{worst} against {most}");
            let squares: f64 = misses.iter().map(|it| it * it).sum();
            let mean = (squares / 41.0).sqrt();
            assert!(mean < usual + 0.000_05, "{mean} against {usual}");
        }
    }

    #[test]
    fn the_white_of_daylight_is_the_white_of_a_screen() {
        // D65 from 380 to 780 nm has XYZ .95043, 1, 1.08880 (computed by hand with the tabulated
        // functions); 0.001 covers the bells. IEC 61966-2-1 turns exactly this white into 1, 1, 1.
        for (got, printed) in tristimulus(0.0, 1.0)
            .into_iter()
            .zip([0.950_43, 1.0, 1.088_80])
        {
            assert!((got - printed).abs() < 0.001, "{got} against {printed}");
        }
        for row in super::XYZ_TO_RGB {
            let white = row[0] * 0.950_43 + row[1] + row[2] * 1.088_80;
            assert!((white - 1.0).abs() < 0.001, "{white}");
        }
    }

    /// CIE 1976 L*a*b* against the white of D65 (CIE 15).
    fn lab([x, y, z]: [f64; 3]) -> [f64; 3] {
        let root = |t: f64| {
            if t > 216.0 / 24_389.0 {
                t.cbrt()
            } else {
                841.0 / 108.0 * t + 4.0 / 29.0
            }
        };
        let (x, y, z) = (root(x / 0.950_43), root(y), root(z / 1.088_80));
        [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
    }

    #[test]
    fn beers_are_seen_no_further_from_the_worked_colours_than_an_eye_can_tell() {
        // SRM, path and L*a*b* worked with the tabulated functions. 2.3 is the difference an eye just
        // notices (Mahy, Van Eycken & Oosterlinck 1994, from memory).
        for (srm, path_cm, worked) in [
            (2.0, 1.0, [96.8, -1.3, 11.7]),
            (6.0, 1.0, [90.8, -0.8, 30.6]),
            (20.0, 1.0, [73.6, 11.9, 66.7]),
            (1.0, 5.0, [92.2, -1.2, 26.4]),
            (2.0, 5.0, [85.3, 1.9, 44.9]),
            (4.0, 5.0, [73.6, 11.9, 66.7]),
            (6.0, 5.0, [64.1, 21.3, 76.3]),
            (10.0, 5.0, [49.3, 33.5, 77.7]),
            (15.0, 5.0, [36.2, 39.9, 61.3]),
            (20.0, 5.0, [26.8, 41.0, 45.9]),
            (30.0, 5.0, [14.3, 37.3, 24.6]),
        ] {
            let got = lab(tristimulus(srm * EBC_PER_SRM, path_cm));
            let apart: f64 = got.iter().zip(worked).map(|(a, b)| (a - b).powi(2)).sum();
            assert!(apart.sqrt() < 2.3, "{srm} SRM, {path_cm} cm: {got:?}");
        }
    }
}
