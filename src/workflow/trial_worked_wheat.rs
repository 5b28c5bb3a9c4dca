//! Worked by hand: a strong wheat beer, as the recipe says.

use crate::workflow::trial_worked::Fig;
use crate::workflow::trial_worked::Row;
use crate::workflow::trial_worked::Smell;
use crate::workflow::trial_worked::Worked;

pub(super) const DOCUMENT: &str = r#"name = "Barn wheat"
version = "1"
volume = "6 L"

[mash]
temperature = "66 °C"
time = "60 min"

[boil]
time = "60 min"

[[fermentable]]
name = "Wheat malt, pale"
amount = "1 kg"

[[fermentable]]
name = "Pilsner malt"
amount = "800 g"

[[fermentable]]
name = "Munich malt, light"
amount = "150 g"

[[sugar]]
name = "White sugar"
amount = "150 g"

[[hop]]
name = "Tettnanger"
amount = "18 g"
boil = "60 min"

[[other]]
name = "Sweet orange peel, dried"
amount = "6 g"
when = "last 5 minutes of the boil"

[[other]]
name = "Coriander seed"
amount = "4 g"
when = "last 5 minutes of the boil"

[yeast]
name = "Wheat beer yeast, banana"
temperature = "23 °C"

[carbonation]
target = "3.0 vol"
priming = "sucrose"
bottle = "heavy"
"#;

/// The recipe, and all that is shown of it.
pub(super) static BARN: Worked = Worked {
    document: DOCUMENT,
    log: &[],
    tasted: None,
    figures: FIGURES,
    scales: SCALES,
    smells: [AROMA, FLAVOUR],
};

// Grist: Wheat malt, pale 1 kg × 0.8 × 0.7 = 0.56000 kg, Pilsner malt 0.8 kg × 0.785 × 0.7 =
// 0.43960 kg, Munich malt, light 0.15 kg × 0.77 × 0.7 = 0.08085 kg, White sugar 0.15 kg × 1 =
// 0.15000 kg; together 1.23045 kg in 6 L.
// P × SG(P) × 0.99820 × 6 / 100 = 1.23045 by bisection, SG from the ASBC cubic: OE 19.0450 °P,
// OG 1.07873.
// Attenuation of the wort: 0.75 = 0.75000.
// Were it all wort: AE 4.7612, RE 7.5170, so that φ = 0.62974 of the extract ferments. The
// extract holds 0.12191 sugar: F = 12.8529 of 19.0450 g in 100 g of wort, RE = 100 (OE −
// F)/(100 − 0.51609 F) = 6.6320, AE = RE (1 + q) − q OE = 3.6647 °P, SG 1.01436.
// q = 0.22 + 0.001 OE = 0.23904; RE = (q OE + AE)/(1 + q) = 6.6320; A = (OE − RE)/(2.0665 −
// 0.010665 OE) = 6.6615 % w/w; × 1.01436 / 0.79066 = 8.546 % vol.
// Ends: weak grist 16.332 °P and eager yeast AE 2.414, strong grist 21.838 °P and lazy yeast AE
// 5.165 (gravities, real extract); weak and lazy 7.009 %, strong and eager 10.280 % vol
// (alcohol).
// Bitterness by Tinseth alone: nobody logged a cooling and nothing stands.
// Tettnanger, 18 g × 4 % / 6 L = 120.00 mg/L. U = 1.65 × 0.000125^(OG − 1) × (1 − e^(−0.04 ×
// 60))/4.15 = 0.17817: 21.380 IBU.
// Together 21.380 IBU; ends with low and high alpha and gravity, × 0.75 and 1.25: 11.151 and
// 32.848.
// Colour: MCU = 8.3454/1.97 × (1 × 4 + 0.8 × 3.5 + 0.15 × 15)/6 = 6.390; SRM = 1.4922 ×
// MCU^0.6859 = 5.325; × 1.97 = 10.49 EBC.
// Gas: 23 °C is 73.4 °F, left 3.0378 − 0.050062 T + 0.00026555 T² = 0.7939 vol; (3 − 0.7939) ×
// 3.84 × 6 L = 50.83 g.
// Esters: 1.06^(19.045 − 13) = 1.4222.
// Shares and hop matter: wheat 47.619, polyphenols 36.000.
// Bitterness equivalents: 21.380 (11.151 to 32.848). Attenuation 80.76 % (76.35 to 85.22).
//
// Hops and yeast, in flavour units before the weights of nose (1.25, yeast 1.1) and mouth (0.8,
// yeast 0.9): at this dose or temperature × left by the step (hops) or degrees (yeast) × left
// in store or stress × left in the bottle; malt weighs 0.8 and 1.25, the rest 1 and 1.
// Oil of Tettnanger, 0.7 mL in 100 g, a dry hop of 1 g/L: myrcene 0.7/100 × 28/100 × 0.87e6 ×
// 0.03/100 = 0.512 units; linalool 0.6 % over 27 and geraniol 0.1 % over 36 µg/L 1.353 + 0.169
// = 1.522. At 4 g/L four times that; × share × dose that counts / 4 (dry: d/(1 + d/16), over
// 3.2). Spread: oil lg(0.9/0.5)/2.5631 = 0.0996, myrcene 0.0866, linalool 0.1277 and geraniol
// 0.3214 together 0.1190; with 0.45 resinous 0.469, floral 0.476.
// Tettnanger boil noble to peppers: 2.1 × 0.6 = 1.260, spread 0.450.
// Tettnanger boil noble to tea-leaves: 1.35 × 0.6 = 0.810, spread 0.450.
// Tettnanger boil noble to cut-green: 1.275 × 0.6 = 0.765, spread 0.450.
// yeast to soft-tropical: 7 × 1.2123 × 1.4222 = 12.070, spread 0.450.
// yeast to fruit-drops: 4 × 1.2311 × 1.4222 = 7.004, spread 0.450.
// yeast to warm-spices: 5 = 5.000, spread 0.450.
// yeast to vanilla-and-marzipan: 0.7 = 0.700, spread 0.450.

static FIGURES: &[Fig] = &[
    ("original-gravity", 1.079, Some([1.067, 1.091]), 3),
    ("final-gravity", 1.014, Some([1.009, 1.020]), 3),
    ("alcohol", 8.5, Some([7.0, 10.3]), 1),
    ("real-extract", 6.6, Some([5.1, 8.4]), 1),
    ("apparent-attenuation", 81.0, Some([76.0, 85.0]), 0),
    ("energy", 73.0, Some([62.0, 85.0]), 0),
    ("bitterness", 21.0, Some([11.0, 33.0]), 0),
    ("colour", 10.0, Some([9.0, 13.0]), 0),
    ("carbonation", 3.0, Some([2.8, 3.2]), 1),
    ("priming-sugar", 51.0, None, 0),
];

static SCALES: &[Row] = &[
    // 0 + 10.490 (EBC) = 10.490; sd √(2² + 1.567²) = 2.541
    ("colour", 3.1, [2.2, 3.7]),
    // 1.5 + 2.381 (wheat) = 3.881; sd 1.3
    ("haze", 3.9, [2.2, 5.5]),
    // 25 + 6.000 (gas) + 4.762 (wheat) − 2.546 (alcohol) = 33.216; sd √(8² + 1.561² + 1.276²) =
    // 8.250
    ("head", 6.6, [4.5, 8.8]),
    // 4.5 + 1.800 (gas) = 6.300; sd √(1.3² + 0.468²) = 1.382
    ("bubbles", 6.3, [4.5, 8.1]),
    // 120 + 47.619 (wheat) − 38.194 (alcohol) = 129.425; sd √(60² + 3.062² + 19.142²) = 63.054
    ("head-retention", 5.2, [2.6, 6.5]),
    // 48.92 units in the nose, a third is 16.308, to the 0.6 is 5.339; 9u/(8 + u); sd 1.3
    ("aroma-intensity", 3.6, [1.9, 5.3]),
    // 3.2 + 1.173 (real extract) + 0.199 (IBU) − 0.360 (gas) = 4.211; sd √(1.2² + 0.716² +
    // 0.254² + 0.094² + 0.156²) = 1.432
    ("sweet", 4.2, [2.4, 6.0]),
    // 0 + 3.726 (equivalents) − 0.533 (real extract) + 0.355 (alcohol) = 3.548; sd √(1.1² +
    // 1.112² + 0.326² + 0.128² + 0.187² + 0.117²) = 1.618
    ("bitter", 3.5, [1.5, 5.6]),
    // 1 + 0.240 (gas) = 1.240; sd √(0.9² + 0.062²) = 0.902
    ("sour", 1.2, [0.1, 2.4]),
    // 0.4, and nothing adds; sd √(0.6² + 0.243² + 0.031²) = 0.648
    ("salty", 0.4, [0.0, 1.2]),
    // 0 + 5.969 (real extract) + 1.137 (alcohol) + 1.429 (wheat) − 0.360 (gas) = 8.174; sd
    // √(1.2² + 1.172² + 0.319² + 0.117² + 0.094²) = 1.714
    ("fullness", 8.2, [6.0, 9.0]),
    // 4.2 + 1.320 (gas) = 5.520; sd √(1.1² + 0.343²) = 1.152
    ("carbonation", 5.5, [4.0, 7.0]),
    // 5 + 0.132 (IBU) = 5.132; sd √(1.3² + 0.234² + 0.312² + 0.169²) = 1.368
    ("smoothness", 5.1, [3.4, 6.9]),
    // 1.5 + 0.060 (polyphenols) − 0.099 (IBU) = 1.461; sd √(1.1² + 0.234² + 0.059² + 0.127²) =
    // 1.133
    ("astringency", 1.5, [0.0, 2.9]),
    // 0.5 + 3.182 (alcohol) = 3.682; sd √(0.9² + 0.893²) = 1.268
    ("alcohol-warmth", 3.7, [2.1, 5.3]),
    // 4.5 + 0.571 (attenuation) − 0.853 (real extract) + 0.360 (gas) − 0.132 (IBU) = 4.446; sd
    // √(1.2² + 0.415² + 0.521² + 0.374² + 0.094² + 0.169²) = 1.436
    ("dryness", 4.4, [2.6, 6.3]),
    // 0 + 2.783 (equivalents) = 2.783; sd √(1.2² + 0.879² + 0.250²) = 1.508
    ("lingering-bitterness", 2.8, [0.9, 4.7]),
    // 8 + 0.276 (IBU) + 5.319 (alcohol) = 13.595; sd √(6² + 1.002² + 1.914²) = 6.377
    ("length", 4.7, [2.5, 6.2]),
];

static AROMA: &[Smell] = &[
    // 13.277 (yeast); spread 0.450, Φ(1.123/0.673)
    ("soft-tropical", 95, [1.6, 3.5, 6.0]),
    // 7.704 (yeast); spread 0.450, Φ(0.887/0.673)
    ("fruit-drops", 91, [1.4, 2.9, 5.4]),
    // 3.500 (Sweet orange peel, dried) + 1.200 (Coriander seed) = 4.700 units; spread 0.315,
    // Φ(0.672/0.591)
    ("orange", 87, [1.3, 2.4, 4.4]),
    // 5.500 (yeast); spread 0.450, Φ(0.740/0.673)
    ("warm-spices", 86, [1.3, 2.6, 5.0]),
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
    // 1.575 (Tettnanger boil); spread 0.450, Φ(0.197/0.673)
    ("peppers", 62, [1.1, 1.9, 3.7]),
    // 0.320 (Pilsner malt) + 0.956 (Tettnanger boil) = 1.276 units; spread 0.348,
    // Φ(0.106/0.609)
    ("cut-green", 57, [1.1, 1.7, 3.2]),
    // 1.000 (Coriander seed) + 0.091 (Tettnanger boil) = 1.091 units; spread 0.369,
    // Φ(0.038/0.621)
    ("flowers", 52, [1.1, 1.7, 3.1]),
    // 1.013 (Tettnanger boil); spread 0.450, Φ(0.005/0.673)
    ("tea-leaves", 50, [1.1, 1.7, 3.3]),
    // 0.770 (yeast); spread 0.450, Φ(−0.114/0.673)
    ("vanilla-and-marzipan", 43, [1.1, 1.6, 3.1]),
];

static FLAVOUR: &[Smell] = &[
    // 10.863 (yeast); spread 0.450, Φ(1.036/0.673)
    ("soft-tropical", 94, [1.5, 3.2, 5.8]),
    // 2.708 (Wheat malt, pale) + 1.333 (Pilsner malt) + 0.547 (Munich malt, light) = 4.589
    // units; spread 0.234, Φ(0.662/0.552)
    ("bread", 88, [1.3, 2.3, 4.2]),
    // 6.304 (yeast); spread 0.450, Φ(0.800/0.673)
    ("fruit-drops", 88, [1.3, 2.7, 5.1]),
    // 3.500 (Sweet orange peel, dried) + 1.200 (Coriander seed) = 4.700 units; spread 0.315,
    // Φ(0.672/0.591)
    ("orange", 87, [1.3, 2.4, 4.4]),
    // 4.500 (yeast); spread 0.450, Φ(0.653/0.673)
    ("warm-spices", 83, [1.3, 2.5, 4.7]),
    // 3.333 (Wheat malt, pale); spread 0.350, Φ(0.523/0.610)
    ("raw-dough", 80, [1.2, 2.2, 4.1]),
    // 1.250 (Wheat malt, pale) + 1.667 (Pilsner malt) = 2.917 units; spread 0.250,
    // Φ(0.465/0.559)
    ("grain-sack", 80, [1.2, 2.0, 3.7]),
    // 2.667 (Coriander seed); spread 0.400, Φ(0.426/0.640)
    ("seed-spices", 75, [1.2, 2.1, 4.0]),
    // 0.500 (Pilsner malt) + 0.612 (Tettnanger boil) = 1.112 units; spread 0.293,
    // Φ(0.046/0.580)
    ("cut-green", 53, [1.1, 1.6, 2.9]),
    // 1.000 (Coriander seed) + 0.058 (Tettnanger boil) = 1.058 units; spread 0.379,
    // Φ(0.025/0.627)
    ("flowers", 52, [1.1, 1.7, 3.1]),
    // 1.008 (Tettnanger boil); spread 0.450, Φ(0.003/0.673)
    ("peppers", 50, [1.1, 1.7, 3.3]),
    // 0.938 (Munich malt, light); spread 0.350, Φ(−0.028/0.610)
    ("toasted", 48, [1.1, 1.6, 3.0]),
    // 0.583 (Pilsner malt) + 0.312 (Munich malt, light) = 0.896 units; spread 0.259,
    // Φ(−0.048/0.563)
    ("honey-and-syrup", 47, [1.1, 1.5, 2.7]),
    // 0.667 (Pilsner malt); spread 0.500, Φ(−0.176/0.707)
    ("boiled", 40, [1.1, 1.6, 3.2]),
];
