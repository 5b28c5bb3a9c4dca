//! The document of a predicted profile, for the file: one TOML table with a row a line.

use toml::Table;
use toml::Value;

use crate::domain::PredictedLine;

/// Writes a predicted profile; figures to three decimals, so that equal predictions are equal texts.
#[must_use]
pub fn write_prediction(lines: &[PredictedLine]) -> String {
    let mut table = Table::new();
    for line in lines {
        let chance = line.chance.into_iter();
        let row = chance.chain([line.low, line.middle, line.high]);
        let row = row.map(|it| Value::Float((it * 1_000.0).round() / 1_000.0));
        table.insert(line.id.clone(), Value::Array(row.collect()));
    }
    table.to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scale_has_three_figures_and_a_shelf_its_chance_before_them() {
        let line = |id: &str, chance| PredictedLine {
            id: id.to_owned(),
            chance,
            low: 1.0,
            middle: 2.000_4,
            high: 3.5,
        };
        let lines = [
            line("bitter", None),
            line("aroma:shelf:toasted", Some(0.25)),
        ];
        let written: Table = write_prediction(&lines).parse().unwrap();
        let row = |id: &str| -> Vec<f64> {
            let items = written[id].as_array().unwrap().iter();
            items.map(|it| it.as_float().unwrap()).collect()
        };
        assert_eq!(row("bitter"), [1.0, 2.0, 3.5]);
        assert_eq!(row("aroma:shelf:toasted"), [0.25, 1.0, 2.0, 3.5]);
    }
}
