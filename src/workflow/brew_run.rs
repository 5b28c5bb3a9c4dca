//! One run of the brewing formulas over a recipe and its log, with every ingredient at one end of its spread.

use crate::brewing::ColourCharge;
use crate::brewing::ExtractCharge;
use crate::brewing::ExtractMix;
use crate::brewing::ExtractSource;
use crate::brewing::HopCharge;
use crate::brewing::HopContact;
use crate::brewing::HoppedWort;
use crate::brewing::Plato;
use crate::brewing::SpecificGravity;
use crate::brewing::Stretch;
use crate::brewing::attenuation_shift;
use crate::brewing::beer_ebc;
use crate::brewing::original_extract;
use crate::brewing::rest_time_shift;
use crate::domain::Celsius;
use crate::domain::Ebc;
use crate::domain::FermentableFamily;
use crate::domain::FermentableUse;
use crate::domain::Ferments;
use crate::domain::Goes;
use crate::domain::HopTime;
use crate::domain::HopUse;
use crate::domain::Minutes;
use crate::domain::Percent;
use crate::domain::Recipe;
use crate::domain::Spread;
use crate::profile::kept_in_store;
use crate::workflow::BatchLog;

/// Efficiency where nobody states it, low, usual and high (judgement: small kitchens).
const EFFICIENCY: [f64; 3] = [0.60, 0.70, 0.80];
/// The middle of these.
pub(super) const USUAL_EFFICIENCY: f64 = EFFICIENCY[1];
/// Apparent attenuation where no yeast is named, low, usual and high (common practice: 70 to 80 %).
const ATTENUATION: [f64; 3] = [0.70, 0.75, 0.80];
/// How far a stated efficiency strays from brew to brew (judgement).
const EFFICIENCY_STRAYS: f64 = 0.03;
/// How far a stated attenuation strays from brew to brew (judgement).
const ATTENUATION_STRAYS: f64 = 0.03;
/// What a grist of crystal malt alone would take off the attenuation, as a fraction of 1: a tenth of the
/// grist takes 2 % (judgement; that it ferments less is common practice).
const CRYSTAL_LEAVES: f64 = 0.2;
/// How far the bitterness formula strays (common practice: 20 to 30 %).
const BITTERNESS_STRAYS: f64 = 0.25;

/// Which end of every spread a run of the formulas takes.
#[derive(Debug, Clone, Copy)]
pub(super) enum End {
    Low,
    Usual,
    High,
}

impl End {
    const fn of(self, spread: Spread) -> f64 {
        match self {
            Self::Low => spread.low(),
            Self::Usual => spread.usual(),
            Self::High => spread.high(),
        }
    }

    const fn among(self, [low, usual, high]: [f64; 3]) -> f64 {
        match self {
            Self::Low => low,
            Self::Usual => usual,
            Self::High => high,
        }
    }

    fn around(self, value: f64, strays: f64) -> f64 {
        self.among([value - strays, value, value + strays])
    }
}

/// The formulas at one end of everything.
#[derive(Clone, Copy)]
pub(super) struct Run<'a> {
    pub(super) recipe: &'a Recipe,
    pub(super) log: &'a BatchLog,
    /// The end of grist, efficiency, hops and colour.
    pub(super) end: End,
    /// The end of the attenuation.
    pub(super) yeast: End,
}

impl Run<'_> {
    fn litres(&self) -> f64 {
        self.log
            .number("volume-fermenter")
            .unwrap_or_else(|| self.recipe.volume.get())
    }

    fn extract_share(&self, it: &FermentableUse) -> f64 {
        it.extract.map_or_else(
            || self.end.of(it.fermentable.extract),
            |share| share.get() / 100.0,
        )
    }

    fn efficiency(&self) -> f64 {
        self.recipe.efficiency.map_or_else(
            || self.end.among(EFFICIENCY),
            |stated| {
                self.end
                    .around(stated.get() / 100.0, EFFICIENCY_STRAYS)
                    .clamp(0.0, 1.0)
            },
        )
    }

    fn charge(&self, it: &FermentableUse) -> ExtractCharge {
        ExtractCharge {
            kilograms: it.amount.get() / 1_000.0,
            extract_fraction: self.extract_share(it),
            source: match it.fermentable.goes {
                Goes::Mash => ExtractSource::Mashed,
                Goes::Dissolved => ExtractSource::Dissolved,
            },
        }
    }

    pub(super) fn original(&self) -> Option<Plato> {
        if let Some(gravity) = self.log.number("original-gravity") {
            return SpecificGravity::new(gravity).plato();
        }
        let grist: Vec<ExtractCharge> = self
            .recipe
            .fermentables
            .iter()
            .map(|it| self.charge(it))
            .collect();
        original_extract(&grist, self.efficiency(), self.litres())
    }

    fn mix(&self) -> Option<ExtractMix> {
        let mass = |wanted: Option<Ferments>| {
            self.recipe
                .fermentables
                .iter()
                .filter(|it| wanted.is_none_or(|wanted| it.fermentable.ferments == wanted))
                .map(|it| self.charge(it).extract_kilograms(self.efficiency()))
                .sum::<Option<f64>>()
        };
        let all = mass(None)?;
        (all > 0.0).then_some(ExtractMix {
            wholly_fermentable: mass(Some(Ferments::Wholly))? / all,
            unfermentable: mass(Some(Ferments::Not))? / all,
        })
    }

    /// The attenuation that the brewer states for this beer, or what the yeast does with a usual wort,
    /// moved by the mash and by crystal malt.
    fn attenuation(&self) -> f64 {
        let yeast = self.recipe.yeast.as_ref();
        if let Some(stated) = yeast.and_then(|it| it.attenuation) {
            let strays = self.yeast.around(stated.get() / 100.0, ATTENUATION_STRAYS);
            return strays.clamp(0.0, 1.0);
        }
        let usual = yeast.map_or_else(
            || self.yeast.among(ATTENUATION),
            |it| self.yeast.of(it.yeast.attenuation) / 100.0,
        );
        (usual + self.mash_shift()).clamp(0.0, 1.0)
    }

    /// How far the mash and crystal malt move the attenuation of the wort, each by the part it has of what
    /// makes that wort: what sugar and lactose beside it do is reckoned with the mix.
    fn mash_shift(&self) -> f64 {
        let logged = self.log.number("mash-temperature");
        let stated = self.recipe.mash.temperature.map(Celsius::get);
        let rest = logged.or(stated).and_then(attenuation_shift).unwrap_or(0.0);
        let time = self.recipe.mash.time.map(Minutes::get);
        let rest = rest + time.and_then(rest_time_shift).unwrap_or(0.0);
        let mashed = self.share(|it| it.fermentable.goes == Goes::Mash);
        let crystal = self.share(|it| it.fermentable.family == FermentableFamily::Crystal);
        rest * mashed - CRYSTAL_LEAVES * crystal
    }

    /// The part that fits of all that ferments as the wort does, by mass.
    fn share(&self, wanted: impl Fn(&FermentableUse) -> bool) -> f64 {
        let grist = self.recipe.fermentables.iter();
        let grist = grist.filter(|it| it.fermentable.ferments == Ferments::AsWort);
        let all: f64 = grist.clone().map(|it| it.amount.get()).sum();
        let fitting = grist.filter(|it| wanted(it));
        let fitting: f64 = fitting.map(|it| it.amount.get()).sum();
        if all > 0.0 { fitting / all } else { 0.0 }
    }

    pub(super) fn expected_end(&self) -> Option<Plato> {
        self.mix()?
            .final_extract(self.original()?, self.attenuation())
    }

    pub(super) fn apparent(&self) -> Option<Plato> {
        match self.log.number("final-gravity") {
            Some(gravity) => SpecificGravity::new(gravity).plato(),
            None => self.expected_end(),
        }
    }

    pub(super) fn bitterness(&self) -> Option<f64> {
        let wort = HoppedWort {
            gravity: self.original()?.specific_gravity()?,
            litres: self.litres(),
            cooling_minutes: self.log.number("cooling-time"),
        };
        let charges = self.recipe.hops.iter().map(|it| self.hop_charge(it));
        let charges: Option<Vec<HopCharge>> = charges.collect();
        let units: f64 = wort.bitterness_units(&charges?)?.iter().sum();
        Some(units * self.end.around(1.0, BITTERNESS_STRAYS))
    }

    fn hop_charge(&self, it: &HopUse) -> Option<HopCharge> {
        let alpha = it
            .alpha
            .map_or_else(|| self.end.of(it.hop.alpha), Percent::get);
        Some(HopCharge {
            grams: it.amount.get(),
            alpha_fraction: alpha / 100.0 * kept_in_store(it),
            contact: contact(it.when)?,
        })
    }

    pub(super) fn colour(&self) -> Option<f64> {
        let grist: Vec<ColourCharge> = self
            .recipe
            .fermentables
            .iter()
            .map(|it| ColourCharge {
                kilograms: it.amount.get() / 1_000.0,
                ebc: it
                    .colour
                    .map_or_else(|| self.end.of(it.fermentable.colour), Ebc::get),
            })
            .collect();
        beer_ebc(&grist, self.litres())
    }
}

fn contact(when: HopTime) -> Option<HopContact> {
    Some(match when {
        HopTime::Boil(time) => HopContact::Boil {
            minutes: time.get(),
        },
        HopTime::Whirlpool {
            temperature,
            cools_to,
            time,
        } => {
            let end = cools_to.unwrap_or(temperature);
            HopContact::Stand(Stretch::new(time.get(), temperature.get(), end.get())?)
        }
        HopTime::Dry { .. } => HopContact::Dry,
    })
}
