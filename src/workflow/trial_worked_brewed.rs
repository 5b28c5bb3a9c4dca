//! Worked by hand: the strong wheat beer, as it was brewed and kept.

use crate::workflow::trial_worked::Fig;
use crate::workflow::trial_worked::Row;
use crate::workflow::trial_worked::Smell;
use crate::workflow::trial_worked::Worked;
use crate::workflow::trial_worked_wheat::DOCUMENT;

/// What was logged of the wheat beer, ten weeks before it was tasted and earlier.
static LOG: &[(&str, &str)] = &[
    ("original-gravity", "1.068"),
    ("final-gravity", "1.013"),
    ("mash-temperature", "64"),
    ("sparge-temperature", "80"),
    ("sparge-ph", "6.0"),
    ("cooling-time", "40"),
    ("pitching-rate", "7"),
    ("priming-sugar", "48"),
    ("packaged", "2026-07-04"),
    ("storage-temperature", "10"),
];

/// The recipe, and all that is shown of it.
pub(super) static BREWED: Worked = Worked {
    document: DOCUMENT,
    log: LOG,
    tasted: Some("2026-09-12"),
    figures: FIGURES,
    scales: SCALES,
    smells: [AROMA, FLAVOUR],
};

// Measured: OG 1.068 is 16.5959 °P and FG 1.013 3.3214 °P by the ASBC cubic.
// Attenuation of the wort: 0.75 + (0.015 (rest, against 66 °C)) × 1.0000 of the wort mashed =
// 0.76500.
// Were it all wort: AE 3.9000, RE 6.3291, so that φ = 0.63952 of the extract ferments. The
// extract holds 0.12191 sugar: F = 11.3427 of 16.5959 g in 100 g of wort, RE = 100 (OE −
// F)/(100 − 0.51609 F) = 5.5798, AE = RE (1 + q) − q OE = 2.9734 °P, SG 1.01163.
// q = 0.22 + 0.001 OE = 0.23660; RE = (q OE + AE)/(1 + q) = 5.8611; A = (OE − RE)/(2.0665 −
// 0.010665 OE) = 5.6812 % w/w; × 1.01300 / 0.79066 = 7.279 % vol.
// Bitterness: an hour at 100 °C makes 0.47589 of the alpha acid iso-alpha-acid (Malowicki &
// Shellhammer, k1 = 7.9e11 e^(−11858/T), k2 = 4.1e12 e^(−12994/T)); Tinseth's hour here is
// 0.19621, so recovery is 0.41230.
// Tettnanger, 18 g × 4 % / 6 L = 120.00 mg/L. Tinseth 0.19621; after the boil 0.47264 alpha and
// 0.47589 iso, after the logged 40 min of cooling 0.48651 iso, where the usual cooling (100 to
// 25 °C in 15 min) has 0.47993: U = 0.19621 + 0.4123 × 0.00658 = 0.19892: 23.871 IBU.
// Together 23.871 IBU; ends with low and high alpha and gravity, × 0.75 and 1.25: 11.189 and
// 41.028.
// Colour: MCU = 8.3454/1.97 × (1 × 4 + 0.8 × 3.5 + 0.15 × 15)/6 = 6.390; SRM = 1.4922 ×
// MCU^0.6859 = 5.325; × 1.97 = 10.49 EBC.
// Gas: 23 °C is 73.4 °F, left 3.0378 − 0.050062 T + 0.00026555 T² = 0.7939 vol; 48 g / 6 L /
// 3.84 adds 2.0833: 2.8772 vol. The yeast was thought to end at 1.01163; 0.687 vol for the rest
// are within what it strays.
// Kept: 70 days at 10 °C are 10 × 2^−1 = 5.000 weeks at 20 °C. Left of hops, as multiples of
// three weeks: resinous 0.7071, floral 0.9098, noble 0.9737; of yeast 0.9737; of bitterness
// 0.9828.
// Made: 40 min of cooling leave 0.5 + 0.5 × 40/15 = 1.8333 of the sweetcorn; 7 / (0.75 ×
// 16.596) = 0.5624 of the usual yeast and a strong wort make 1.06^3.596 × 0.5624^−0.3 = 1.4655
// of the esters.
// Shares and hop matter: wheat 47.619, polyphenols 36.000, cold 2.000.
// Bitterness equivalents: 23.461 (10.997 to 40.323), IBU × 0.9828. Attenuation 79.99 % (79.99
// to 79.99).
//
// Hops and yeast, in flavour units before the weights of nose (1.25, yeast 1.1) and mouth (0.8,
// yeast 0.9): at this dose or temperature × left by the step (hops) or degrees (yeast) × left
// in store or stress × left in the bottle; malt weighs 0.8 and 1.25, the rest 1 and 1.
// Tettnanger boil noble to peppers: 2.1 × 0.6 × 0.9737 = 1.227, spread 0.450.
// Tettnanger boil noble to tea-leaves: 1.35 × 0.6 × 0.9737 = 0.789, spread 0.450.
// Tettnanger boil noble to cut-green: 1.275 × 0.6 × 0.9737 = 0.745, spread 0.450.
// yeast to soft-tropical: 7 × 1.2123 × 1.4655 × 0.9737 = 12.110, spread 0.450.
// yeast to fruit-drops: 4 × 1.2311 × 1.4655 × 0.9737 = 7.027, spread 0.450.
// yeast to warm-spices: 5 × 0.9737 = 4.868, spread 0.450.
// yeast to vanilla-and-marzipan: 0.7 × 0.9737 = 0.682, spread 0.450.

static FIGURES: &[Fig] = &[
    ("original-gravity", 1.068, None, 3),
    ("final-gravity", 1.013, None, 3),
    ("alcohol", 7.3, Some([7.3, 7.3]), 1),
    ("real-extract", 5.9, Some([5.9, 5.9]), 1),
    ("apparent-attenuation", 80.0, Some([80.0, 80.0]), 0),
    ("energy", 63.0, Some([63.0, 63.0]), 0),
    ("bitterness", 24.0, Some([11.0, 41.0]), 0),
    ("colour", 10.0, Some([9.0, 13.0]), 0),
    ("carbonation", 2.9, Some([2.7, 3.1]), 1),
];

static SCALES: &[Row] = &[
    // 0 + 10.490 (EBC) = 10.490; sd √(2² + 1.567²) = 2.541
    ("colour", 3.1, [2.2, 3.7]),
    // 1.5 + 2.381 (wheat) + 0.160 (cold) = 4.041; sd 1.3
    ("haze", 4.0, [2.4, 5.7]),
    // 25 + 4.772 (gas) + 4.762 (wheat) − 1.279 (alcohol) = 33.256; sd √(8² + 1.561²) = 8.151
    ("head", 6.7, [4.6, 8.7]),
    // 4.5 + 1.432 (gas) = 5.932; sd √(1.3² + 0.468²) = 1.382
    ("bubbles", 5.9, [4.2, 7.7]),
    // 120 + 47.619 (wheat) − 19.182 (alcohol) = 148.437; sd √(60² + 6.253²) = 60.325
    ("head-retention", 5.5, [3.4, 6.8]),
    // 49.71 units in the nose, a third is 16.569, to the 0.6 is 5.390; 9u/(8 + u); sd 1.3
    ("aroma-intensity", 3.6, [2.0, 5.3]),
    // 3.2 + 0.749 (real extract) + 0.124 (IBU) − 0.286 (gas) = 3.786; sd √(1.2² + 0.349² +
    // 0.094² + 0.156²) = 1.263
    ("sweet", 3.8, [2.2, 5.4]),
    // 0 + 3.994 (equivalents) − 0.340 (real extract) + 0.228 (alcohol) = 3.881; sd √(1.1² +
    // 1.386² + 0.187² + 0.117²) = 1.783
    ("bitter", 3.9, [1.6, 6.2]),
    // 1 + 0.191 (gas) = 1.191; sd √(0.9² + 0.062²) = 0.902
    ("sour", 1.2, [0.0, 2.3]),
    // 0.4, and nothing adds; sd √(0.6² + 0.243² + 0.031²) = 0.648
    ("salty", 0.4, [0.0, 1.2]),
    // 0 + 5.275 (real extract) + 0.820 (alcohol) + 1.429 (wheat) − 0.286 (gas) = 7.237; sd
    // √(1.2² + 0.117² + 0.094²) = 1.209
    ("fullness", 7.2, [5.7, 8.8]),
    // 4.2 + 1.050 (gas) = 5.250; sd √(1.1² + 0.343²) = 1.152
    ("carbonation", 5.2, [3.8, 6.7]),
    // 5 + 0.083 (IBU) = 5.083; sd √(1.3² + 0.234² + 0.312² + 0.233²) = 1.377
    ("smoothness", 5.1, [3.3, 6.8]),
    // 1.5 + 0.900 (sparge) + 0.300 (sparge pH) + 0.060 (polyphenols) − 0.062 (IBU) = 2.699; sd
    // √(1.1² + 0.175²) = 1.114
    ("astringency", 2.7, [1.3, 4.1]),
    // 0.5 + 2.295 (alcohol) = 2.795; sd 0.9
    ("alcohol-warmth", 2.8, [1.6, 3.9]),
    // 4.5 + 0.478 (attenuation) − 0.544 (real extract) + 0.286 (gas) − 0.083 (IBU) = 4.638; sd
    // √(1.2² + 0.374² + 0.094² + 0.233²) = 1.282
    ("dryness", 4.6, [3.0, 6.3]),
    // 0 + 2.996 (equivalents) = 2.996; sd √(1.2² + 1.112² + 0.250²) = 1.655
    ("lingering-bitterness", 3.0, [0.9, 5.1]),
    // 8 + 0.774 (IBU) + 3.418 (alcohol) = 12.192; sd √(6² + 1.641²) = 6.220
    ("length", 4.4, [2.1, 6.0]),
];

static AROMA: &[Smell] = &[
    // 13.321 (yeast); spread 0.450, Φ(1.125/0.673)
    ("soft-tropical", 95, [1.6, 3.5, 6.0]),
    // 7.730 (yeast); spread 0.450, Φ(0.888/0.673)
    ("fruit-drops", 91, [1.4, 2.9, 5.4]),
    // 3.500 (Sweet orange peel, dried) + 1.200 (Coriander seed) = 4.700 units; spread 0.315,
    // Φ(0.672/0.591)
    ("orange", 87, [1.3, 2.4, 4.4]),
    // 5.355 (yeast); spread 0.450, Φ(0.729/0.673)
    ("warm-spices", 86, [1.3, 2.6, 4.9]),
    // 1.733 (Wheat malt, pale) + 0.853 (Pilsner malt) + 0.350 (Munich malt, light) = 2.937
    // units; spread 0.234, Φ(0.468/0.552)
    ("bread", 80, [1.2, 2.0, 3.7]),
    // 2.667 (Coriander seed); spread 0.400, Φ(0.426/0.640)
    ("seed-spices", 75, [1.2, 2.1, 4.0]),
    // 2.133 (Wheat malt, pale); spread 0.350, Φ(0.329/0.610)
    ("raw-dough", 71, [1.2, 1.9, 3.6]),
    // 0.800 (Wheat malt, pale) + 1.067 (Pilsner malt) = 1.867 units; spread 0.250,
    // Φ(0.271/0.559)
    ("grain-sack", 69, [1.1, 1.8, 3.3]),
    // 1.534 (Tettnanger boil); spread 0.450, Φ(0.186/0.673)
    ("peppers", 61, [1.1, 1.9, 3.6]),
    // 0.320 (Pilsner malt) + 0.931 (Tettnanger boil) = 1.251 units; spread 0.347,
    // Φ(0.097/0.608)
    ("cut-green", 56, [1.1, 1.7, 3.2]),
    // 1.000 (Coriander seed) + 0.083 (Tettnanger boil) = 1.083 units; spread 0.371,
    // Φ(0.034/0.623)
    ("flowers", 52, [1.1, 1.7, 3.1]),
    // 0.986 (Tettnanger boil); spread 0.450, Φ(−0.006/0.673)
    ("tea-leaves", 50, [1.1, 1.7, 3.3]),
    // 0.782 (Pilsner malt); spread 0.500, Φ(−0.107/0.707)
    ("boiled", 44, [1.1, 1.7, 3.3]),
    // 0.750 (yeast); spread 0.450, Φ(−0.125/0.673)
    ("vanilla-and-marzipan", 43, [1.1, 1.6, 3.1]),
    // 0.373 (Pilsner malt) + 0.200 (Munich malt, light) + 0.167 (age) = 0.740 units; spread
    // 0.242, Φ(−0.131/0.555)
    ("honey-and-syrup", 41, [1.1, 1.5, 2.6]),
];

static FLAVOUR: &[Smell] = &[
    // 10.899 (yeast); spread 0.450, Φ(1.037/0.673)
    ("soft-tropical", 94, [1.5, 3.2, 5.8]),
    // 2.708 (Wheat malt, pale) + 1.333 (Pilsner malt) + 0.547 (Munich malt, light) = 4.589
    // units; spread 0.234, Φ(0.662/0.552)
    ("bread", 88, [1.3, 2.3, 4.2]),
    // 6.324 (yeast); spread 0.450, Φ(0.801/0.673)
    ("fruit-drops", 88, [1.3, 2.7, 5.1]),
    // 3.500 (Sweet orange peel, dried) + 1.200 (Coriander seed) = 4.700 units; spread 0.315,
    // Φ(0.672/0.591)
    ("orange", 87, [1.3, 2.4, 4.4]),
    // 4.382 (yeast); spread 0.450, Φ(0.642/0.673)
    ("warm-spices", 83, [1.3, 2.4, 4.7]),
    // 3.333 (Wheat malt, pale); spread 0.350, Φ(0.523/0.610)
    ("raw-dough", 80, [1.2, 2.2, 4.1]),
    // 1.250 (Wheat malt, pale) + 1.667 (Pilsner malt) = 2.917 units; spread 0.250,
    // Φ(0.465/0.559)
    ("grain-sack", 80, [1.2, 2.0, 3.7]),
    // 2.667 (Coriander seed); spread 0.400, Φ(0.426/0.640)
    ("seed-spices", 75, [1.2, 2.1, 4.0]),
    // 1.222 (Pilsner malt); spread 0.500, Φ(0.087/0.707)
    ("boiled", 55, [1.1, 1.8, 3.6]),
    // 0.500 (Pilsner malt) + 0.596 (Tettnanger boil) = 1.096 units; spread 0.292,
    // Φ(0.040/0.579)
    ("cut-green", 53, [1.1, 1.6, 2.9]),
    // 0.583 (Pilsner malt) + 0.312 (Munich malt, light) + 0.167 (age) = 1.062 units; spread
    // 0.237, Φ(0.026/0.554)
    ("honey-and-syrup", 52, [1.1, 1.6, 2.8]),
    // 1.000 (Coriander seed) + 0.053 (Tettnanger boil) = 1.053 units; spread 0.381,
    // Φ(0.022/0.628)
    ("flowers", 51, [1.1, 1.7, 3.1]),
    // 0.981 (Tettnanger boil); spread 0.450, Φ(−0.008/0.673)
    ("peppers", 50, [1.1, 1.7, 3.3]),
    // 0.938 (Munich malt, light); spread 0.350, Φ(−0.028/0.610)
    ("toasted", 48, [1.1, 1.6, 3.0]),
];
