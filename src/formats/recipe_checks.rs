//! What cannot be true of a recipe as a whole, though every line of it may be.

use crate::domain::Bottle;
use crate::domain::FermentableUse;
use crate::domain::Goes;
use crate::domain::Grams;
use crate::domain::HopUse;
use crate::domain::Litres;
use crate::domain::OtherKind;
use crate::domain::OtherUse;
use crate::domain::Percent;
use crate::domain::Volumes;
use crate::formats::problem::ProblemKind;

/// More hops than any beer holds, g/L: judgement.
const MOST_HOPS: f64 = 60.0;
/// More grist than any mash of a drinkable beer, kg/L: judgement.
const MOST_GRIST: f64 = 0.6;
/// Extract in g per litre of wort: at 20/20 °C a gravity of 1.2 is about 44 °P, 530 g/L (Plato
/// tables, from memory); under 10 g/L, gravity 1.004, there is hardly beer to speak of (judgement).
const EXTRACT: std::ops::RangeInclusive<f64> = 10.0..=530.0;
/// Above this an ordinary crown-cap bottle is not to be trusted, volumes: common practice.
const MOST_GAS: f64 = 3.0;

/// Problems between the amounts of fermentables and the volume.
pub(crate) fn check_grist(
    fermentables: &[FermentableUse],
    volume: Litres,
    efficiency: Option<Percent>,
) -> Option<ProblemKind> {
    let grist = fermentables.iter().map(|it| it.amount.get()).sum::<f64>() / 1_000.0;
    if grist / volume.get() > MOST_GRIST {
        return Some(ProblemKind::Together {
            found: format!("{grist:.2} kg of fermentables for {:.1} L", volume.get()),
            advice: "more than 0.6 kg/L cannot be mashed, check amounts, units and volume",
        });
    }
    let extract_at = |share: f64| {
        let grams: f64 = fermentables.iter().map(|it| extract(it, share)).sum();
        grams / volume.get()
    };
    let stated = efficiency.map(|it| it.get() / 100.0);
    // Unknown efficiency: only what no efficiency makes possible is refused.
    let most = extract_at(stated.unwrap_or(1.0));
    let least = extract_at(stated.unwrap_or(0.4));
    (most < *EXTRACT.start() || least > *EXTRACT.end()).then(|| ProblemKind::Together {
        found: format!("{most:.0} g of extract in a litre of wort"),
        advice: "beer lies between 10 and 530 g/L, check amounts, units, volume and efficiency",
    })
}

/// Grams of extract that a fermentable brings.
fn extract(it: &FermentableUse, efficiency: f64) -> f64 {
    let stated = it.extract.map(|it| it.get() / 100.0);
    let share = stated.unwrap_or(it.fermentable.extract.usual());
    let entered = match it.fermentable.goes {
        Goes::Mash => efficiency,
        Goes::Dissolved => 1.0,
    };
    it.amount.get() * share * entered
}

/// Problems between the amounts of hops and the volume.
pub(crate) fn check_hops(hops: &[HopUse], volume: Litres) -> Option<ProblemKind> {
    let grams: f64 = hops.iter().map(|it| Grams::get(it.amount)).sum();
    (grams / volume.get() > MOST_HOPS).then(|| ProblemKind::Together {
        found: format!("{grams:.0} g of hops for {:.1} L", volume.get()),
        advice: "more than 60 g/L is beyond any beer, check amounts, units and volume",
    })
}

/// Problems between the amount of an addition and the volume.
pub(crate) fn check_other(it: &OtherUse, volume: Litres) -> Option<ProblemKind> {
    let dose = it.amount.get() / volume.get();
    let most = most_of(it.other.kind);
    (dose > most).then(|| ProblemKind::Together {
        found: format!(
            "{:.0} g of {} for {:.1} L",
            it.amount.get(),
            it.other.identity.name,
            volume.get()
        ),
        advice: "nobody could drink that, check amount, unit and volume",
    })
}

/// More of an addition than any beer holds, g/L: judgement, far above the usual doses.
const fn most_of(kind: OtherKind) -> f64 {
    match kind {
        OtherKind::Fruit => 2_000.0,
        OtherKind::Acid => 50.0,
        _ => 200.0,
    }
}

/// Problems between the carbonation and the bottle.
pub(crate) fn check_pressure(carbonation: Volumes, bottle: Bottle) -> Option<ProblemKind> {
    let weak = matches!(bottle, Bottle::OneWay | Bottle::Crown | Bottle::Unknown);
    (weak && carbonation.get() > MOST_GAS).then(|| ProblemKind::Together {
        found: format!("{:.1} volumes in a {}", carbonation.get(), bottle.word()),
        advice: "above 3.0 such a bottle can burst and hurt: aim lower, or state a bottle that its maker rates for more pressure",
    })
}
