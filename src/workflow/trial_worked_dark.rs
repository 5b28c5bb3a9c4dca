//! Worked by hand: a dark beer with lactose and old hops.

use crate::workflow::trial_worked::Fig;
use crate::workflow::trial_worked::Row;
use crate::workflow::trial_worked::Smell;
use crate::workflow::trial_worked::Worked;

const DOCUMENT: &str = r#"name = "Lantern stout"
version = "1"
volume = "4.5 L"
efficiency = "68 %"

[mash]
temperature = "68 °C"
time = "90 min"

[boil]
time = "75 min"

[[fermentable]]
name = "Pale malt"
amount = "950 g"

[[fermentable]]
name = "Roasted barley"
amount = "90 g"

[[fermentable]]
name = "Chocolate malt"
amount = "70 g"

[[fermentable]]
name = "Crystal malt, dark"
amount = "70 g"

[[sugar]]
name = "Lactose"
amount = "80 g"

[[hop]]
name = "Northern Brewer"
amount = "14 g"
boil = "60 min"
age = "2 years"
stored = "shelf"

[[hop]]
name = "Fuggle"
amount = "10 g"
alpha = "4.8 %"
boil = "10 min"
age = "1 year"
stored = "fridge"

[yeast]
name = "Dry stout ale yeast"
temperature = "20 °C"

[carbonation]
target = "2.0 vol"
priming = "dextrose-monohydrate"
bottle = "crown"
"#;

/// The recipe, and all that is shown of it.
pub(super) static LANTERN: Worked = Worked {
    document: DOCUMENT,
    log: &[],
    tasted: None,
    figures: FIGURES,
    scales: SCALES,
    smells: [AROMA, FLAVOUR],
};

// Grist: Pale malt 0.95 kg × 0.78 × 0.68 = 0.50388 kg, Roasted barley 0.09 kg × 0.66 × 0.68 =
// 0.04039 kg, Chocolate malt 0.07 kg × 0.69 × 0.68 = 0.03284 kg, Crystal malt, dark 0.07 kg ×
// 0.715 × 0.68 = 0.03403 kg, Lactose 0.08 kg × 0.95 = 0.07600 kg; together 0.68715 kg in 4.5 L.
// P × SG(P) × 0.99820 × 4.5 / 100 = 0.68715 by bisection, SG from the ASBC cubic: OE 14.4487
// °P, OG 1.05875.
// Attenuation of the wort: 0.75 + (−0.030 (rest, against 66 °C) + 0.00877 (0.015 ×
// log2(90/60))) × 1.0000 of the wort mashed − 0.2 × 0.0593 of the wort's malt crystal =
// 0.71691.
// Were it all wort: AE 4.0903, RE 6.0576, so that φ = 0.59949 of the extract ferments. The
// extract holds 0.11060 lactose: F = 7.7039 of 14.4487 g in 100 g of wort, RE = 100 (OE −
// F)/(100 − 0.51609 F) = 7.0241, AE = RE (1 + q) − q OE = 5.2834 °P, SG 1.02081.
// q = 0.22 + 0.001 OE = 0.23445; RE = (q OE + AE)/(1 + q) = 7.0241; A = (OE − RE)/(2.0665 −
// 0.010665 OE) = 3.8824 % w/w; × 1.02081 / 0.79066 = 5.012 % vol.
// Ends: weak grist 13.534 °P and eager yeast AE 4.540, strong grist 15.380 °P and lazy yeast AE
// 5.968 (gravities, real extract); weak and lazy 4.448 %, strong and eager 5.688 % vol
// (alcohol).
// Bitterness by Tinseth alone: nobody logged a cooling and nothing stands.
// Late alpha acid: 75.42 mg/L, below the 90 that dissolve.
// Northern Brewer, 14 g × 8.5 % × 0.2500 left in store / 4.5 L = 66.11 mg/L. U = 1.65 ×
// 0.000125^(OG − 1) × (1 − e^(−0.04 × 60))/4.15 = 0.21323: 14.097 IBU.
// Fuggle, 10 g × 4.8 % × 0.7071 left in store / 4.5 L = 75.42 mg/L. U = 1.65 × 0.000125^(OG −
// 1) × (1 − e^(−0.04 × 10))/4.15 = 0.07731: 5.831 IBU.
// Together 19.928 IBU; ends with low and high alpha and gravity, × 0.75 and 1.25: 12.258 and
// 28.031.
// Colour: MCU = 8.3454/1.97 × (0.95 × 4 + 0.09 × 1250 + 0.07 × 950 + 0.07 × 230 + 0.08 ×
// 0.5)/4.5 = 187.280; SRM = 1.4922 × MCU^0.6859 = 54.017; × 1.97 = 106.41 EBC.
// Gas: 20 °C is 68 °F, left 3.0378 − 0.050062 T + 0.00026555 T² = 0.8615 vol; (2 − 0.8615) ×
// 4.45 × 4.5 L = 22.80 g.
// 75 min of boil leave 2^(−15/37.5) = 0.7579 of the sweetcorn.
// Esters: 1.06^(14.449 − 13) = 1.0881.
// Gone old: (1 − 0.25 − 0.2)/0.8 × 14 g and (1 − 0.7071 − 0.2)/0.8 × 10 g in 4.5 L are 2.3969
// g/L.
// Shares and hop matter: roasted 12.698, crystal 5.556, polyphenols 64.000.
// Bitterness equivalents: 19.928 (12.258 to 28.031). Attenuation 63.43 % (61.20 to 66.46).
//
// Hops and yeast, in flavour units before the weights of nose (1.25, yeast 1.1) and mouth (0.8,
// yeast 0.9): at this dose or temperature × left by the step (hops) or degrees (yeast) × left
// in store or stress × left in the bottle; malt weighs 0.8 and 1.25, the rest 1 and 1.
// Oil of Northern Brewer, 1.6 mL in 100 g, a dry hop of 1 g/L: myrcene 1.6/100 × 36/100 ×
// 0.87e6 × 0.03/100 = 1.503 units; linalool 0.4 % over 27 and geraniol 0.1 % over 36 µg/L 2.062
// + 0.387 = 2.449. At 4 g/L four times that; × share × dose that counts / 4 (dry: d/(1 + d/16),
// over 3.2). Spread: oil lg(2.2/1.2)/2.5631 = 0.1027, myrcene 0.1039, linalool 0.1336 and
// geraniol 0.3214 together 0.1234; with 0.45 resinous 0.473, floral 0.478.
// Oil of Fuggle, 0.9 mL in 100 g, a dry hop of 1 g/L: myrcene 0.9/100 × 28/100 × 0.87e6 ×
// 0.03/100 = 0.658 units; linalool 0.7 % over 27 and geraniol 0.1 % over 36 µg/L 2.030 + 0.218
// = 2.248. At 4 g/L four times that; × share × dose that counts / 4 (dry: d/(1 + d/16), over
// 3.2). Spread: oil lg(1.3/0.7)/2.5631 = 0.1049, myrcene 0.0851, linalool 0.1088 and geraniol
// 0.2727 together 0.1017; with 0.45 resinous 0.470, floral 0.473.
// Northern Brewer boil noble to wood: 1.4 × 0.6 × 0.25 = 0.210, spread 0.450.
// Northern Brewer boil noble to peppers: 0.9333 × 0.6 × 0.25 = 0.140, spread 0.450.
// Fuggle boil noble to forest-floor: 1.2222 × 0.7071 = 0.864, spread 0.450.
// Fuggle boil resinous to garden-herbs: 0.7746 × 0.2292 × 0.7071 = 0.126, spread 0.470.
// Fuggle boil resinous to cut-green: 0.687 × 0.2292 × 0.7071 = 0.111, spread 0.470.
// Fuggle boil floral to flowers: 1.5483 × 0.2937 × 0.7071 = 0.322, spread 0.473.
// Fuggle boil noble to wood: 0.8333 × 0.7071 = 0.589, spread 0.450.
// yeast to apples-and-pears: 1.1 × 1.0371 × 1.0881 = 1.241, spread 0.450.
// yeast to fruit-drops: 0.8 × 1.0481 × 1.0881 = 0.912, spread 0.450.
// yeast to wood: 0.6 × 1.0184 = 0.611, spread 0.450.
// yeast to butter-and-cream: 0.5 × 0.965 = 0.482, spread 0.450.

static FIGURES: &[Fig] = &[
    ("original-gravity", 1.059, Some([1.055, 1.063]), 3),
    ("final-gravity", 1.021, Some([1.018, 1.024]), 3),
    ("alcohol", 5.0, Some([4.4, 5.7]), 1),
    ("real-extract", 7.0, Some([6.2, 7.8]), 1),
    ("apparent-attenuation", 63.0, Some([61.0, 66.0]), 0),
    ("energy", 56.0, Some([52.0, 59.0]), 0),
    ("bitterness", 20.0, Some([12.0, 28.0]), 0),
    ("colour", 106.0, Some([92.0, 120.0]), 0),
    ("carbonation", 2.0, Some([1.8, 2.2]), 1),
    ("priming-sugar", 23.0, None, 0),
];

static SCALES: &[Row] = &[
    // 0 + 106.413 (EBC) = 106.413; sd √(2² + 10.854²) = 11.037
    ("colour", 9.0, [8.7, 9.0]),
    // 1.5, and nothing adds; sd 1.3
    ("haze", 1.5, [0.0, 3.2]),
    // 25 − 4.000 (gas) = 21.000; sd √(8² + 1.561²) = 8.151
    ("head", 4.2, [2.1, 6.3]),
    // 4.5 − 1.200 (gas) = 3.300; sd √(1.3² + 0.468²) = 1.382
    ("bubbles", 3.3, [1.5, 5.1]),
    // 120, and nothing adds; sd √(60² + 1.183²) = 60.012
    ("head-retention", 5.0, [2.4, 6.3]),
    // 68.79 units in the nose, a third is 22.929, to the 0.6 is 6.550; 9u/(8 + u); sd 1.3
    ("aroma-intensity", 4.1, [2.4, 5.7]),
    // 3.2 + 1.388 (real extract) + 0.222 (crystal) + 0.242 (IBU) + 0.240 (gas) = 5.293; sd
    // √(1.2² + 0.326² + 0.185² + 0.094² + 0.156²) = 1.270
    ("sweet", 5.3, [3.7, 6.9]),
    // 0 + 3.531 (equivalents) − 0.631 (real extract) + 0.001 (alcohol) + 0.635 (roasted) =
    // 3.536; sd √(1.1² + 0.842² + 0.148² + 0.048² + 0.187² + 0.117²) = 1.412
    ("bitter", 3.5, [1.7, 5.3]),
    // 1 − 0.160 (gas) = 0.840; sd √(0.9² + 0.062²) = 0.902
    ("sour", 0.8, [0.0, 2.0]),
    // 0.4, and nothing adds; sd √(0.6² + 0.243² + 0.031²) = 0.648
    ("salty", 0.4, [0.0, 1.2]),
    // 0 + 6.322 (real extract) + 0.253 (alcohol) + 0.240 (gas) = 6.815; sd √(1.2² + 0.533² +
    // 0.121² + 0.117² + 0.094²) = 1.327
    ("fullness", 6.8, [5.1, 8.5]),
    // 4.2 − 0.880 (gas) = 3.320; sd √(1.1² + 0.343²) = 1.152
    ("carbonation", 3.3, [1.8, 4.8]),
    // 5 − 0.762 (roasted) + 0.161 (IBU) = 4.400; sd √(1.3² + 0.234² + 0.312² + 0.123²) = 1.363
    ("smoothness", 4.4, [2.7, 6.1]),
    // 1.5 + 1.016 (roasted) + 0.214 (polyphenols) − 0.121 (IBU) = 2.609; sd √(1.1² + 0.234² +
    // 0.059² + 0.092²) = 1.130
    ("astringency", 2.6, [1.2, 4.1]),
    // 0.5 + 0.709 (alcohol) = 1.209; sd √(0.9² + 0.339²) = 0.962
    ("alcohol-warmth", 1.2, [0.0, 2.4]),
    // 4.5 − 1.508 (attenuation) − 1.010 (real extract) − 0.240 (gas) − 0.161 (IBU) = 1.581; sd
    // √(1.2² + 0.246² + 0.237² + 0.374² + 0.094² + 0.123²) = 1.312
    ("dryness", 1.6, [0.0, 3.3]),
    // 0 + 2.630 (equivalents) + 0.635 (roasted) = 3.265; sd √(1.2² + 0.661² + 0.250²) = 1.392
    ("lingering-bitterness", 3.3, [1.5, 5.0]),
    // 8 + 0.019 (alcohol) + 3.809 (roasted) = 11.828; sd √(6² + 0.627² + 0.403²) = 6.046
    ("length", 4.4, [2.0, 5.9]),
];

static AROMA: &[Smell] = &[
    // 14.400 (Roasted barley) + 6.222 (Chocolate malt) = 20.622 units; spread 0.266,
    // Φ(1.314/0.566)
    ("coffee", 99, [2.0, 3.9, 6.1]),
    // 4.800 (Roasted barley) + 8.711 (Chocolate malt) = 13.511 units; spread 0.258,
    // Φ(1.131/0.562)
    ("cocoa", 98, [1.7, 3.4, 5.6]),
    // 5.760 (Roasted barley) + 1.244 (Chocolate malt) = 7.004 units; spread 0.294,
    // Φ(0.845/0.580)
    ("ash-and-char", 93, [1.4, 2.7, 4.8]),
    // 3.733 (Crystal malt, dark); spread 0.350, Φ(0.572/0.610)
    ("boiled-sugar", 83, [1.2, 2.2, 4.2]),
    // 3.111 (Crystal malt, dark); spread 0.350, Φ(0.493/0.610)
    ("dried-fruit", 79, [1.2, 2.1, 4.0]),
    // 3.595 (old-hops); spread 0.600, Φ(0.556/0.781)
    ("cheese", 76, [1.2, 2.4, 5.0]),
    // 1.867 (Chocolate malt); spread 0.350, Φ(0.271/0.610)
    ("roasted-nuts", 67, [1.1, 1.9, 3.5]),
    // 0.263 (Northern Brewer boil) + 0.737 (Fuggle boil) + 0.672 (yeast) = 1.671 units; spread
    // 0.278, Φ(0.223/0.572)
    ("wood", 65, [1.1, 1.8, 3.2]),
    // 1.918 (old-hops); spread 0.600, Φ(0.283/0.781)
    ("stable", 64, [1.2, 2.1, 4.4]),
    // 1.604 (Pale malt); spread 0.350, Φ(0.205/0.610)
    ("bread", 63, [1.1, 1.8, 3.4]),
    // 1.520 (Pale malt); spread 0.350, Φ(0.182/0.610)
    ("grain-sack", 62, [1.1, 1.8, 3.3]),
    // 1.493 (Crystal malt, dark); spread 0.350, Φ(0.174/0.610)
    ("biscuits-and-cakes", 61, [1.1, 1.8, 3.3]),
    // 1.365 (yeast); spread 0.450, Φ(0.135/0.673)
    ("apples-and-pears", 58, [1.1, 1.8, 3.5]),
    // 1.182 (Crystal malt, dark); spread 0.350, Φ(0.073/0.610)
    ("honey-and-syrup", 55, [1.1, 1.7, 3.1]),
    // 1.080 (Fuggle boil); spread 0.450, Φ(0.034/0.673)
    ("forest-floor", 52, [1.1, 1.7, 3.4]),
    // 1.004 (yeast); spread 0.450, Φ(0.002/0.673)
    ("fruit-drops", 50, [1.1, 1.7, 3.3]),
    // 0.844 (Pale malt); spread 0.350, Φ(−0.073/0.610)
    ("toasted", 45, [1.1, 1.6, 2.9]),
];

static FLAVOUR: &[Smell] = &[
    // 22.500 (Roasted barley) + 9.722 (Chocolate malt) = 32.222 units; spread 0.266,
    // Φ(1.508/0.566)
    ("coffee", 100, [2.4, 4.5, 6.6]),
    // 7.500 (Roasted barley) + 13.611 (Chocolate malt) = 21.111 units; spread 0.258,
    // Φ(1.325/0.562)
    ("cocoa", 99, [2.1, 4.0, 6.1]),
    // 9.000 (Roasted barley) + 1.944 (Chocolate malt) = 10.944 units; spread 0.294,
    // Φ(1.039/0.580)
    ("ash-and-char", 96, [1.6, 3.2, 5.4]),
    // 5.833 (Crystal malt, dark); spread 0.350, Φ(0.766/0.610)
    ("boiled-sugar", 90, [1.3, 2.6, 4.8]),
    // 4.861 (Crystal malt, dark); spread 0.350, Φ(0.687/0.610)
    ("dried-fruit", 87, [1.3, 2.4, 4.5]),
    // 2.917 (Chocolate malt); spread 0.350, Φ(0.465/0.610)
    ("roasted-nuts", 78, [1.2, 2.1, 4.0]),
    // 3.595 (old-hops); spread 0.600, Φ(0.556/0.781)
    ("cheese", 76, [1.2, 2.4, 5.0]),
    // 2.507 (Pale malt); spread 0.350, Φ(0.399/0.610)
    ("bread", 74, [1.2, 2.0, 3.8]),
    // 2.375 (Pale malt); spread 0.350, Φ(0.376/0.610)
    ("grain-sack", 73, [1.2, 2.0, 3.8]),
    // 2.333 (Crystal malt, dark); spread 0.350, Φ(0.368/0.610)
    ("biscuits-and-cakes", 73, [1.2, 2.0, 3.7]),
    // 1.847 (Crystal malt, dark); spread 0.350, Φ(0.267/0.610)
    ("honey-and-syrup", 67, [1.1, 1.9, 3.5]),
    // 1.918 (old-hops); spread 0.600, Φ(0.283/0.781)
    ("stable", 64, [1.2, 2.1, 4.4]),
    // 1.319 (Pale malt); spread 0.350, Φ(0.120/0.610)
    ("toasted", 58, [1.1, 1.7, 3.2]),
    // 0.168 (Northern Brewer boil) + 0.471 (Fuggle boil) + 0.550 (yeast) = 1.189 units; spread
    // 0.281, Φ(0.075/0.574)
    ("wood", 55, [1.1, 1.6, 3.0]),
    // 1.117 (yeast); spread 0.450, Φ(0.048/0.673)
    ("apples-and-pears", 53, [1.1, 1.7, 3.4]),
    // 0.821 (yeast); spread 0.450, Φ(−0.086/0.673)
    ("fruit-drops", 45, [1.1, 1.6, 3.1]),
    // 0.691 (Fuggle boil); spread 0.450, Φ(−0.160/0.673)
    ("forest-floor", 41, [1.1, 1.6, 3.0]),
];
