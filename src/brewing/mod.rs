//! Physics and chemistry of wort and beer: plain numbers in and out.

mod bounds;

pub mod alcohol;
pub mod attenuation;
pub mod beer_spectrum;
pub mod bitterness;
pub mod bottle;
pub mod carbonation;
pub mod colour;
pub mod energy;
pub mod extract;
pub mod gravity;
pub mod haze;
pub mod hop_enzymes;
pub mod hop_oil;
pub mod isomerisation;
pub mod mash_rest;
pub mod priming;
#[cfg(test)]
mod published_bitterness;

pub use alcohol::alcohol_by_volume;
pub use alcohol::alcohol_by_weight;
pub use alcohol::alcohol_grams;
pub use attenuation::Attenuation;
pub use attenuation::ExtractMix;
pub use attenuation::real_extract;
pub use beer_spectrum::seen_colour;
pub use bitterness::HopCharge;
pub use bitterness::HopContact;
pub use bitterness::HoppedWort;
pub use bitterness::bitter_equivalents;
pub use bottle::PressureCaution;
pub use bottle::{BottleKind, MARGIN_VOLUMES};
pub use carbonation::gauge_pressure_bar;
pub use carbonation::residual_volumes;
pub use carbonation::volumes_from_unfinished;
pub use colour::ColourCharge;
pub use colour::beer_ebc;
pub use colour::srm_from_ebc;
pub use energy::energy_kilocalories;
pub use extract::ExtractCharge;
pub use extract::ExtractSource;
pub use extract::original_extract;
pub use gravity::Plato;
pub use gravity::SpecificGravity;
pub use haze::haze_digit;
pub use haze::haze_word;
pub use hop_enzymes::volumes_from_hop_enzymes;
pub use hop_oil::oil_micrograms;
pub use isomerisation::Stretch;
pub use mash_rest::attenuation_shift;
pub use mash_rest::rest_time_shift;
pub use priming::PrimingSugar;
