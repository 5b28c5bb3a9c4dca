//! The area under a curve.

/// Places and weights of Gauss-Legendre quadrature with 16 points on −1 to 1, those above 0
/// (Abramowitz & Stegun 1964, table 25.4).
const POINTS: [(f64, f64); 8] = [
    (0.095_012_509_837_637_44, 0.189_450_610_455_068_5),
    (0.281_603_550_779_258_9, 0.182_603_415_044_923_6),
    (0.458_016_777_657_227_4, 0.169_156_519_395_002_54),
    (0.617_876_244_402_643_7, 0.149_595_988_816_576_73),
    (0.755_404_408_355_003, 0.124_628_971_255_533_87),
    (0.865_631_202_387_831_7, 0.095_158_511_682_492_78),
    (0.944_575_023_073_232_6, 0.062_253_523_938_647_894),
    (0.989_400_934_991_649_9, 0.027_152_459_411_754_095),
];

/// The area under `of` from `low` to `high`, cut into `pieces` of equal width with 16 points each.
#[must_use]
pub fn integral(low: f64, high: f64, pieces: u32, of: impl Fn(f64) -> f64) -> f64 {
    let half = (high - low) / f64::from(pieces) / 2.0;
    let sum: f64 = (0..pieces)
        .map(|piece| {
            let middle = low + half * f64::from(2 * piece + 1);
            let pair = |(place, weight): &(f64, f64)| {
                weight * (of(middle - half * place) + of(middle + half * place))
            };
            POINTS.iter().map(pair).sum::<f64>()
        })
        .sum();
    half * sum
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn powers_up_to_the_31st_have_the_area_of_calculus() {
        // With 16 points exact to degree 31: the area of x^k from 0 to 1 is 1/(k + 1).
        for power in 0..=31 {
            let found = integral(0.0, 1.0, 1, |x| x.powi(power));
            let expected = 1.0 / f64::from(power + 1);
            assert!((found / expected - 1.0).abs() < 1e-14, "{power}: {found}");
        }
    }

    #[test]
    fn the_bell_curve_has_the_area_of_the_root_of_two_pi() {
        let found = integral(-9.0, 9.0, 4, |x| (-x * x / 2.0).exp());
        let expected = (2.0 * std::f64::consts::PI).sqrt();
        assert!((found / expected - 1.0).abs() < 1e-13, "{found}");
    }
}
