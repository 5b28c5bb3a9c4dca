//! The units of the open standards in ours.

/// Millilitres of the measures of volume that BeerJSON names.
const VOLUMES: [(&str, f64); 15] = [
    ("ml", 1.0),
    ("l", 1_000.0),
    ("tsp", 4.928_921_593_75),
    ("tbsp", 14.786_764_781_25),
    ("floz", 29.573_529_562_5),
    ("cup", 236.588_236_5),
    ("pt", 473.176_473),
    ("qt", 946.352_946),
    ("gal", 3_785.411_784),
    ("bbl", 117_347.765_304),
    ("ifloz", 28.413_062_5),
    ("ipt", 568.261_25),
    ("iqt", 1_136.522_5),
    ("igal", 4_546.09),
    ("ibbl", 163_659.24),
];
/// Grams of its measures of mass.
const MASSES: [(&str, f64); 5] = [
    ("mg", 0.001),
    ("g", 1.0),
    ("kg", 1_000.0),
    ("lb", 453.592_37),
    ("oz", 28.349_523_125),
];
/// Minutes of its measures of time.
const TIMES: [(&str, f64); 5] = [
    ("sec", 1.0 / 60.0),
    ("min", 1.0),
    ("hr", 60.0),
    ("day", 1_440.0),
    ("week", 10_080.0),
];

fn of(table: &[(&str, f64)], (value, unit): (f64, &str)) -> Option<f64> {
    let (_, size) = table.iter().find(|it| it.0.eq_ignore_ascii_case(unit))?;
    Some(value * size)
}

/// To a thousandth: degrees, which nobody reads finer, and minutes, so that days come back from them as they were.
fn rounded(value: f64) -> f64 {
    (1_000.0 * value).round() / 1_000.0
}

/// Litres.
pub(super) fn litres(it: (f64, &str)) -> Option<f64> {
    // Litres stay as they stand; the table counts in millilitres.
    if it.1.eq_ignore_ascii_case("l") {
        return Some(it.0);
    }
    of(&VOLUMES, it).map(|it| it / 1_000.0)
}

/// Grams.
pub(super) fn grams(it: (f64, &str)) -> Option<f64> {
    of(&MASSES, it)
}

/// Minutes.
pub(super) fn minutes(it: (f64, &str)) -> Option<f64> {
    let is_ours = it.1.eq_ignore_ascii_case("min");
    let minutes = of(&TIMES, it)?;
    Some(if is_ours { minutes } else { rounded(minutes) })
}

/// Degrees Celsius.
pub(super) fn celsius((value, unit): (f64, &str)) -> Option<f64> {
    match unit {
        "C" => Some(value),
        "F" => Some(rounded((value - 32.0) / 1.8)),
        _ => None,
    }
}

/// A colour as a recipe of ours may state it.
pub(super) fn colour((value, unit): (f64, &str)) -> Option<String> {
    let unit = match unit {
        "EBC" => "EBC",
        "SRM" => "SRM",
        "Lovi" => "Lovibond",
        _ => return None,
    };
    Some(format!("{value} {unit}"))
}

/// Specific gravity; degrees Plato (and Brix, which for wort are nearly the same) by the usual approximation
/// (Lincoln 1987).
pub(super) fn specific_gravity((value, unit): (f64, &str)) -> Option<f64> {
    match unit {
        "sg" => Some(value),
        "plato" | "brix" => Some(1.0 + value / (258.6 - value / 258.2 * 227.1)),
        _ => None,
    }
}
