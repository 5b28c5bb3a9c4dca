//! Worked by hand: a pale hoppy ale.

use crate::workflow::trial_worked::Fig;
use crate::workflow::trial_worked::Row;
use crate::workflow::trial_worked::Smell;
use crate::workflow::trial_worked::Worked;

const DOCUMENT: &str = r#"name = "Gable pale"
version = "1"
volume = "5 L"

[mash]
temperature = "67 °C"
time = "60 min"

[boil]
time = "60 min"

[[fermentable]]
name = "Pale ale malt"
amount = "1.1 kg"

[[fermentable]]
name = "Wheat malt, pale"
amount = "100 g"

[[fermentable]]
name = "Crystal malt, pale"
amount = "50 g"

[[hop]]
name = "Magnum"
amount = "4 g"
alpha = "13 %"
boil = "60 min"

[[hop]]
name = "Centennial"
amount = "10 g"
whirlpool = "95 °C to 80 °C for 20 min"

[[hop]]
name = "Cascade"
amount = "20 g"
dry = "3 days"

[[hop]]
name = "Centennial"
amount = "10 g"
dry = "2 days"

[yeast]
name = "Clean ale yeast"
temperature = "18 °C"

[water]
sodium = 15
chloride = 60
sulphate = 150

[carbonation]
target = "2.4 vol"
priming = "sucrose"
bottle = "crown"
"#;

/// The recipe, and all that is shown of it.
pub(super) static GABLE: Worked = Worked {
    document: DOCUMENT,
    log: &[],
    tasted: None,
    figures: FIGURES,
    scales: SCALES,
    smells: [AROMA, FLAVOUR],
};

// Grist: Pale ale malt 1.1 kg × 0.785 × 0.7 = 0.60445 kg, Wheat malt, pale 0.1 kg × 0.8 × 0.7 =
// 0.05600 kg, Crystal malt, pale 0.05 kg × 0.735 × 0.7 = 0.02572 kg; together 0.68618 kg in 5
// L.
// P × SG(P) × 0.99820 × 5 / 100 = 0.68618 by bisection, SG from the ASBC cubic: OE 13.0583 °P,
// OG 1.05283.
// Attenuation of the wort: 0.77 + (−0.015 (rest, against 66 °C)) × 1.0000 of the wort mashed −
// 0.2 × 0.0400 of the wort's malt crystal = 0.74700.
// AE = 13.0583 × (1 − 0.747) = 3.3038 °P, FG 1.01293.
// q = 0.22 + 0.001 OE = 0.23306; RE = (q OE + AE)/(1 + q) = 5.1475; A = (OE − RE)/(2.0665 −
// 0.010665 OE) = 4.1048 % w/w; × 1.01293 / 0.79066 = 5.259 % vol.
// Ends: weak grist 10.918 °P and eager yeast AE 2.326, strong grist 15.270 °P and lazy yeast AE
// 4.474 (gravities, real extract); weak and lazy 4.118 %, strong and eager 6.546 % vol
// (alcohol).
// Bitterness: an hour at 100 °C makes 0.47589 of the alpha acid iso-alpha-acid (Malowicki &
// Shellhammer, k1 = 7.9e11 e^(−11858/T), k2 = 4.1e12 e^(−12994/T)); Tinseth's hour here is
// 0.22487, so recovery is 0.47252.
// Late alpha acid: 200.0 mg/L, of which 90 dissolve: 0.4500.
// Magnum, 4 g × 13 % / 5 L = 104.00 mg/L. Tinseth 0.22487; after the boil 0.47264 alpha and
// 0.47589 iso, after stand and cooling 0.50655 iso, where the usual cooling (100 to 25 °C in 15
// min) has 0.47993: U = 0.22487 + 0.4725 × 0.02662 = 0.23744: 24.694 IBU.
// Centennial, 10 g × 10 % / 5 L = 200.00 mg/L. 20 min from 95 to 80 °C (T = 20 + 75 ×
// (60/75)^(t/20)) leave 0.91664 alpha and 0.08255 iso, 15 min on to 25 °C 0.08487 iso: U =
// 0.4725 × 0.08487 = 0.04010; × 0.45 dissolved: 3.609 IBU.
// Cascade, 20 g × 6 % / 5 L = 240.00 mg/L. Dry: 0.
// Centennial, 10 g × 10 % / 5 L = 200.00 mg/L. Dry: 0.
// Together 28.303 IBU; ends with low and high alpha and gravity, × 0.75 and 1.25: 23.014 and
// 32.502.
// Colour: MCU = 8.3454/1.97 × (1.1 × 6 + 0.1 × 4 + 0.05 × 28)/5 = 7.117; SRM = 1.4922 ×
// MCU^0.6859 = 5.733; × 1.97 = 11.29 EBC.
// Gas: 18 °C is 64.4 °F, left 3.0378 − 0.050062 T + 0.00026555 T² = 0.9151 vol; (2.4 − 0.9151)
// × 3.84 × 5 L = 28.51 g.
// Esters: 1.06^(13.058 − 13) = 1.0034.
// Shares and hop matter: crystal 4.000, wheat 8.000, dry hops 6.000, polyphenols 142.092.
// Bitterness equivalents: 36.448 (31.635 to 40.269), IBU × (1 − 0.015 × 6) + 0.66 × 2.7 × 6.
// Attenuation 74.70 % (70.70 to 78.70).
//
// Hops and yeast, in flavour units before the weights of nose (1.25, yeast 1.1) and mouth (0.8,
// yeast 0.9): at this dose or temperature × left by the step (hops) or degrees (yeast) × left
// in store or stress × left in the bottle; malt weighs 0.8 and 1.25, the rest 1 and 1.
// Oil of Magnum, 2.2 mL in 100 g, a dry hop of 1 g/L: myrcene 2.2/100 × 38/100 × 0.87e6 ×
// 0.03/100 = 2.182 units; linalool 0.3 % over 27 and geraniol 0.1 % over 36 µg/L 2.127 + 0.532
// = 2.658. At 4 g/L four times that; × share × dose that counts / 4 (dry: d/(1 + d/16), over
// 3.2). Spread: oil lg(2.8/1.6)/2.5631 = 0.0948, myrcene 0.0724, linalool 0.1374 and geraniol
// 0.2727 together 0.1227; with 0.45 resinous 0.466, floral 0.476.
// Oil of Centennial, 1.9 mL in 100 g, a dry hop of 1 g/L: myrcene 1.9/100 × 55/100 × 0.87e6 ×
// 0.03/100 = 2.727 units; linalool 0.8 % over 27 and geraniol 1.3 % over 36 µg/L 4.898 + 5.969
// = 10.867. At 4 g/L four times that; × share × dose that counts / 4 (dry: d/(1 + d/16), over
// 3.2). Spread: oil lg(2.5/1.4)/2.5631 = 0.0982, myrcene 0.0570, linalool 0.0866 and geraniol
// 0.1266 together 0.0797; with 0.45 resinous 0.464, floral 0.467.
// Oil of Cascade, 1.4 mL in 100 g, a dry hop of 1 g/L: myrcene 1.4/100 × 52/100 × 0.87e6 ×
// 0.03/100 = 1.900 units; linalool 0.5 % over 27 and geraniol 0.3 % over 36 µg/L 2.256 + 1.015
// = 3.271. At 4 g/L four times that; × share × dose that counts / 4 (dry: d/(1 + d/16), over
// 3.2). Spread: oil lg(2/0.9)/2.5631 = 0.1353, myrcene 0.0526, linalool 0.1049 and geraniol
// 0.1662 together 0.0888; with 0.45 resinous 0.473, floral 0.478.
// Magnum boil noble to peppers: 0.28 × 0.6 = 0.168, spread 0.450.
// Centennial stand floral to lemon-and-lime: 4.1294 × 0.5966 = 2.464, spread 0.467.
// Centennial stand floral to flowers: 6.9548 × 0.5966 = 4.150, spread 0.467.
// Centennial stand resinous to resin: 4.3639 × 0.8261 = 3.605, spread 0.464.
// Centennial stand floral to orange: 2.3907 × 0.5966 = 1.426, spread 0.467.
// Cascade dry thiol to grapefruit: 5 × 0.9862 = 4.931, spread 0.550.
// Cascade dry floral to flowers: 4.0555 × 0.9862 = 4.000, spread 0.478.
// Cascade dry floral to orange: 3.1397 × 0.9862 = 3.097, spread 0.478.
// Cascade dry resinous to resin: 5.3202 × 0.9862 = 5.247, spread 0.473.
// Cascade dry noble to peppers: 0.6 × 0.2959 = 0.178, spread 0.450.
// Centennial dry floral to lemon-and-lime: 4.5883 × 0.9426 = 4.325, spread 0.467.
// Centennial dry floral to flowers: 7.7276 × 0.9426 = 7.284, spread 0.467.
// Centennial dry resinous to resin: 4.8488 × 0.9426 = 4.570, spread 0.464.
// Centennial dry floral to orange: 2.6564 × 0.9426 = 2.504, spread 0.467.
// yeast to apples-and-pears: 0.7 × 0.9603 × 1.0034 = 0.674, spread 0.450.
// yeast to fruit-drops: 0.5 × 0.9541 × 1.0034 = 0.479, spread 0.450.
// yeast to raw-dough: 0.5 × 0.9819 = 0.491, spread 0.450.

static FIGURES: &[Fig] = &[
    ("original-gravity", 1.053, Some([1.044, 1.062]), 3),
    ("final-gravity", 1.013, Some([1.009, 1.018]), 3),
    ("alcohol", 5.3, Some([4.1, 6.5]), 1),
    ("real-extract", 5.1, Some([3.9, 6.5]), 1),
    ("apparent-attenuation", 75.0, Some([71.0, 79.0]), 0),
    ("energy", 49.0, Some([41.0, 58.0]), 0),
    ("bitterness", 28.0, Some([23.0, 33.0]), 0),
    ("colour", 11.0, Some([10.0, 13.0]), 0),
    ("carbonation", 2.4, Some([2.2, 2.6]), 1),
    ("priming-sugar", 29.0, None, 0),
];

static SCALES: &[Row] = &[
    // 0 + 11.295 (EBC) = 11.295; sd √(2² + 1.424²) = 2.455
    ("colour", 3.3, [2.5, 3.9]),
    // 1.5 + 0.400 (wheat) + 1.500 (dry hops) = 3.400; sd 1.3
    ("haze", 3.4, [1.7, 5.1]),
    // 25 + 0.800 (wheat) = 25.800; sd √(8² + 1.561² + 0.213²) = 8.154
    ("head", 5.2, [3.1, 7.2]),
    // 4.5, and nothing adds; sd √(1.3² + 0.468²) = 1.382
    ("bubbles", 4.5, [2.7, 6.3]),
    // 120 + 8.000 (wheat) + 3.303 (IBU) = 131.303; sd √(60² + 2.927² + 3.196²) = 60.156
    ("head-retention", 5.2, [2.8, 6.5]),
    // 69.90 units in the nose, a third is 23.300, to the 0.6 is 6.613; 9u/(8 + u); sd 1.3
    ("aroma-intensity", 4.1, [2.4, 5.7]),
    // 3.2 + 0.356 (real extract) + 0.160 (crystal) − 0.009 (IBU) = 3.707; sd √(1.2² + 0.556² +
    // 0.111² + 0.094²) = 1.331
    ("sweet", 3.7, [2.0, 5.4]),
    // 0 + 5.382 (equivalents) − 0.162 (real extract) + 0.026 (alcohol) + 0.210 (sulphate) =
    // 5.456; sd √(1.1² + 0.309² + 0.253² + 0.095²) = 1.174
    ("bitter", 5.5, [4.0, 7.0]),
    // 1, and nothing adds; sd √(0.9² + 0.062²) = 0.902
    ("sour", 1.0, [0.0, 2.2]),
    // 0.4 − 0.120 (sodium) = 0.280; sd 0.6
    ("salty", 0.3, [0.0, 1.0]),
    // 0 + 4.633 (real extract) + 0.315 (alcohol) + 0.240 (wheat) = 5.187; sd √(1.2² + 0.910² +
    // 0.237² + 0.094²) = 1.528
    ("fullness", 5.2, [3.2, 7.1]),
    // 4.2, and nothing adds; sd √(1.1² + 0.343²) = 1.152
    ("carbonation", 4.2, [2.7, 5.7]),
    // 5 − 0.350 (sulphate) − 0.006 (IBU) = 4.644; sd √(1.3² + 0.074²) = 1.302
    ("smoothness", 4.6, [3.0, 6.3]),
    // 1.5 + 0.644 (polyphenols) + 0.005 (IBU) = 2.149; sd √(1.1² + 0.234² + 0.059² + 0.056²) =
    // 1.128
    ("astringency", 2.1, [0.7, 3.6]),
    // 0.5 + 0.881 (alcohol) = 1.381; sd √(0.9² + 0.663²) = 1.118
    ("alcohol-warmth", 1.4, [0.0, 2.8]),
    // 4.5 − 0.156 (attenuation) − 0.259 (real extract) + 0.420 (sulphate) + 0.006 (IBU) =
    // 4.511; sd √(1.2² + 0.374² + 0.405² + 0.094² + 0.074²) = 1.326
    ("dryness", 4.5, [2.8, 6.2]),
    // 0 + 4.141 (equivalents) + 0.280 (sulphate) = 4.421; sd √(1.2² + 0.263²) = 1.228
    ("lingering-bitterness", 4.4, [2.8, 6.0]),
    // 8 + 1.661 (IBU) + 0.388 (alcohol) = 10.049; sd √(6² + 0.740² + 0.905²) = 6.113
    ("length", 4.0, [1.1, 5.6]),
];

static AROMA: &[Smell] = &[
    // 5.187 (Centennial stand) + 5.000 (Cascade dry) + 9.105 (Centennial dry) = 19.291 units;
    // spread 0.283, Φ(1.285/0.574)
    ("flowers", 99, [2.0, 3.8, 6.1]),
    // 4.506 (Centennial stand) + 6.559 (Cascade dry) + 5.713 (Centennial dry) = 16.779 units;
    // spread 0.273, Φ(1.225/0.570)
    ("resin", 98, [1.9, 3.7, 5.9]),
    // 1.783 (Centennial stand) + 3.871 (Cascade dry) + 3.130 (Centennial dry) = 8.783 units;
    // spread 0.285, Φ(0.944/0.575)
    ("orange", 95, [1.5, 2.9, 5.1]),
    // 0.013 (Magnum boil) + 3.080 (Centennial stand) + 5.406 (Centennial dry) = 8.498 units;
    // spread 0.342, Φ(0.929/0.606)
    ("lemon-and-lime", 94, [1.5, 2.9, 5.2]),
    // 6.164 (Cascade dry); spread 0.550, Φ(0.790/0.743)
    ("grapefruit", 86, [1.3, 2.8, 5.4]),
    // 2.024 (Pale ale malt) + 0.360 (Crystal malt, pale) = 2.384 units; spread 0.302,
    // Φ(0.377/0.584)
    ("biscuits-and-cakes", 74, [1.2, 1.9, 3.6]),
    // 1.584 (Pale ale malt); spread 0.350, Φ(0.200/0.610)
    ("toasted", 63, [1.1, 1.8, 3.4]),
    // 1.320 (Pale ale malt) + 0.096 (Wheat malt, pale) = 1.416 units; spread 0.327,
    // Φ(0.151/0.598)
    ("grain-sack", 60, [1.1, 1.7, 3.2]),
    // 0.880 (Crystal malt, pale); spread 0.350, Φ(−0.056/0.610)
    ("honey-and-syrup", 46, [1.1, 1.6, 2.9]),
    // 0.800 (Crystal malt, pale); spread 0.350, Φ(−0.097/0.610)
    ("boiled-sugar", 44, [1.1, 1.6, 2.8]),
    // 0.256 (Wheat malt, pale) + 0.540 (yeast) = 0.796 units; spread 0.325, Φ(−0.099/0.597)
    ("raw-dough", 43, [1.1, 1.5, 2.8]),
    // 0.742 (yeast); spread 0.450, Φ(−0.130/0.673)
    ("apples-and-pears", 42, [1.1, 1.6, 3.1]),
];

static FLAVOUR: &[Smell] = &[
    // 3.320 (Centennial stand) + 3.200 (Cascade dry) + 5.827 (Centennial dry) = 12.346 units;
    // spread 0.283, Φ(1.092/0.574)
    ("flowers", 97, [1.7, 3.3, 5.5]),
    // 2.884 (Centennial stand) + 4.198 (Cascade dry) + 3.656 (Centennial dry) = 10.738 units;
    // spread 0.273, Φ(1.031/0.570)
    ("resin", 96, [1.6, 3.1, 5.3]),
    // 1.141 (Centennial stand) + 2.477 (Cascade dry) + 2.003 (Centennial dry) = 5.621 units;
    // spread 0.285, Φ(0.750/0.575)
    ("orange", 90, [1.3, 2.5, 4.5]),
    // 0.008 (Magnum boil) + 1.971 (Centennial stand) + 3.460 (Centennial dry) = 5.439 units;
    // spread 0.342, Φ(0.736/0.606)
    ("lemon-and-lime", 89, [1.3, 2.5, 4.6]),
    // 3.162 (Pale ale malt) + 0.562 (Crystal malt, pale) = 3.725 units; spread 0.302,
    // Φ(0.571/0.584)
    ("biscuits-and-cakes", 84, [1.2, 2.2, 4.1]),
    // 3.945 (Cascade dry); spread 0.550, Φ(0.596/0.743)
    ("grapefruit", 79, [1.3, 2.5, 4.9]),
    // 2.475 (Pale ale malt); spread 0.350, Φ(0.394/0.610)
    ("toasted", 74, [1.2, 2.0, 3.8]),
    // 2.062 (Pale ale malt) + 0.150 (Wheat malt, pale) = 2.212 units; spread 0.327,
    // Φ(0.345/0.598)
    ("grain-sack", 72, [1.2, 1.9, 3.6]),
    // 1.375 (Crystal malt, pale); spread 0.350, Φ(0.138/0.610)
    ("honey-and-syrup", 59, [1.1, 1.7, 3.3]),
    // 1.250 (Crystal malt, pale); spread 0.350, Φ(0.097/0.610)
    ("boiled-sugar", 56, [1.1, 1.7, 3.2]),
    // 0.963 (Pale ale malt); spread 0.350, Φ(−0.017/0.610)
    ("roasted-nuts", 49, [1.1, 1.6, 3.0]),
    // 0.400 (Wheat malt, pale) + 0.442 (yeast) = 0.842 units; spread 0.289, Φ(−0.075/0.577)
    ("raw-dough", 45, [1.1, 1.5, 2.7]),
];
