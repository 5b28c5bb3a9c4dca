//! What a bottle may hold, and the caution its pressure calls for.

use crate::brewing::carbonation::gauge_pressure_bar;

/// Temperature a bottle's limit in volumes is meant at, °C (judgement: an ordinary room).
const LIMIT_CELSIUS: f64 = 20.0;

/// Storage above this is called warm, °C.
const WARM_CELSIUS: f64 = 25.0;

/// Volumes below the limit that no estimate is good enough to tell from it: 0.1 for the residual
/// gas, as much for the pressure, and uneven sugar between bottles (judgement).
pub const MARGIN_VOLUMES: f64 = 0.3;

/// What the beer is bottled in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BottleKind {
    /// Ordinary crown-capped beer bottle, made to be filled once.
    CrownOneWay,
    /// Heavy returnable beer bottle under a crown cap.
    HeavyReusable,
    /// Swing-top bottle with a rubber seal.
    SwingTop,
    /// Sparkling wine bottle with its own wired cork or a matching crown cap.
    Champagne,
    /// Plastic bottle made for fizzy drinks.
    Pet,
    /// Anything else, or not known.
    Unknown,
}

impl BottleKind {
    /// Volumes of carbon dioxide such a bottle, sound and unscuffed, should not be taken beyond.
    ///
    /// Crown 3.0 (common practice). Heavy reusable 4.0 (a glass maker's statement for beer
    /// bottles). Champagne 5.0: some 6 bar in service (from memory), taken down for reuse and caps
    /// (judgement). Swing-top 3.0 and plastic 3.5: judgement, for seals and plastic tire. Unknown
    /// 3.0: no more without knowing the bottle. None of these rests on a proof pressure: scratches,
    /// heat and reuse cut that, and makers advise against filling one-way bottles again.
    #[must_use]
    pub const fn limit_volumes(self) -> f64 {
        match self {
            Self::CrownOneWay | Self::SwingTop | Self::Unknown => 3.0,
            Self::Pet => 3.5,
            Self::HeavyReusable => 4.0,
            Self::Champagne => 5.0,
        }
    }
}

/// How careful to be with a bottle, from least to most, with the figures it rests on.
///
/// Volumes are of carbon dioxide once all sugar is gone; pressures are bar above the air outside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PressureCaution {
    /// Within the limit by more than the estimate's own error.
    WithinLimit {
        /// Volumes in the beer.
        volumes: f64,
        /// What the bottle should not be taken beyond.
        limit_volumes: f64,
        /// Pressure at the storage temperature.
        bar: f64,
    },
    /// Within the limit, but stored above 25 °C.
    WarmStorage {
        /// Storage temperature, °C.
        celsius: f64,
        /// Pressure there.
        bar: f64,
        /// Pressure the limit stands for, at 20 °C.
        limit_bar: f64,
    },
    /// Nearer to the limit than the estimate is good.
    CloseToLimit {
        /// Volumes in the beer.
        volumes: f64,
        /// What the bottle should not be taken beyond.
        limit_volumes: f64,
        /// Pressure at the storage temperature.
        bar: f64,
    },
    /// Few enough volumes for a cool room, but too much pressure where the bottle stands.
    TooWarm {
        /// Storage temperature, °C.
        celsius: f64,
        /// Pressure there.
        bar: f64,
        /// Pressure the limit stands for, at 20 °C.
        limit_bar: f64,
    },
    /// More than the bottle should hold at any temperature: it may burst.
    OverLimit {
        /// Volumes in the beer.
        volumes: f64,
        /// What the bottle should not be taken beyond.
        limit_volumes: f64,
        /// Pressure at the storage temperature.
        bar: f64,
    },
}

impl PressureCaution {
    /// The caution for a beer of so many volumes in such a bottle, at the warmest it will be stored.
    ///
    /// `None` for what has no pressure: volumes outside 0 to 1,000,000, temperatures outside -3 to 60 °C.
    /// No figure is not safety; whoever asks must say that it could not be told.
    #[must_use]
    pub fn of(volumes: f64, warmest_celsius: f64, bottle: BottleKind) -> Option<Self> {
        let celsius = warmest_celsius;
        let bar = gauge_pressure_bar(volumes, celsius)?;
        let limit_volumes = bottle.limit_volumes();
        let limit_bar = gauge_pressure_bar(limit_volumes, LIMIT_CELSIUS)?;
        Some(if volumes > limit_volumes {
            Self::OverLimit {
                volumes,
                limit_volumes,
                bar,
            }
        } else if bar > limit_bar {
            Self::TooWarm {
                celsius,
                bar,
                limit_bar,
            }
        } else if volumes > limit_volumes - MARGIN_VOLUMES {
            Self::CloseToLimit {
                volumes,
                limit_volumes,
                bar,
            }
        } else if celsius > WARM_CELSIUS {
            Self::WarmStorage {
                celsius,
                bar,
                limit_bar,
            }
        } else {
            Self::WithinLimit {
                volumes,
                limit_volumes,
                bar,
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::proptest;
    use proptest::prop_assert;

    use super::BottleKind;
    use super::PressureCaution;

    const KINDS: [BottleKind; 6] = [
        BottleKind::CrownOneWay,
        BottleKind::HeavyReusable,
        BottleKind::SwingTop,
        BottleKind::Champagne,
        BottleKind::Pet,
        BottleKind::Unknown,
    ];

    fn caution(volumes: f64, celsius: f64, bottle: BottleKind) -> PressureCaution {
        PressureCaution::of(volumes, celsius, bottle).expect("in range")
    }

    fn is_over(caution: PressureCaution) -> bool {
        matches!(caution, PressureCaution::OverLimit { .. })
    }

    #[test]
    fn three_volumes_are_the_most_for_a_bottle_nobody_knows() {
        // Common practice: a standard crown bottle holds up to 3 volumes; no more unless the kind
        // is known.
        for kind in [
            BottleKind::CrownOneWay,
            BottleKind::SwingTop,
            BottleKind::Unknown,
        ] {
            assert!(is_over(caution(3.01, 5.0, kind)), "{kind:?}");
            assert!(!is_over(caution(2.99, 5.0, kind)), "{kind:?}");
        }
    }

    #[test]
    fn four_volumes_are_the_most_for_any_beer_bottle() {
        // A glass maker states its beer bottles are typically rated to 4 volumes.
        for kind in KINDS
            .into_iter()
            .filter(|kind| *kind != BottleKind::Champagne)
        {
            assert!(is_over(caution(4.01, 5.0, kind)), "{kind:?}");
        }
    }

    #[test]
    fn the_heaviest_glass_stays_below_its_service_pressure() {
        // Sparkling wine glass serves some 6 bar (from memory); its limit must stand below that.
        let over = caution(5.01, 20.0, BottleKind::Champagne);
        assert!(
            matches!(over, PressureCaution::OverLimit { bar, .. } if bar < 6.0),
            "{over:?}"
        );
    }

    #[test]
    fn usual_ale_and_lager_are_within_the_limit_at_room_temperature() {
        // Common targets: ales 1.5 to 2.0 volumes, lagers 2.2 to 2.7; wheat beer 3.3 to 4.5 is not
        // for an ordinary bottle.
        for volumes in [1.5, 2.0, 2.5] {
            let got = caution(volumes, 20.0, BottleKind::CrownOneWay);
            assert!(
                matches!(got, PressureCaution::WithinLimit { .. }),
                "{got:?}"
            );
        }
        assert!(is_over(caution(3.3, 20.0, BottleKind::CrownOneWay)));
    }

    #[test]
    fn heat_alone_calls_for_caution() {
        // Worked pressures at 2.5 volumes: 2.91 bar at 30 °C and 3.89 at 40 against 2.60 bar for
        // 3 volumes at 20 °C.
        let hot = caution(2.5, 30.0, BottleKind::CrownOneWay);
        assert!(matches!(hot, PressureCaution::TooWarm { .. }), "{hot:?}");
        let warm = caution(1.8, 30.0, BottleKind::CrownOneWay);
        assert!(
            matches!(warm, PressureCaution::WarmStorage { .. }),
            "{warm:?}"
        );
        let cool = caution(2.8, 10.0, BottleKind::CrownOneWay);
        assert!(
            matches!(cool, PressureCaution::CloseToLimit { .. }),
            "{cool:?}"
        );
    }

    #[test]
    fn nonsense_is_never_called_safe() {
        for (volumes, celsius) in [
            (f64::NAN, 20.0),
            (2.5, f64::NAN),
            (1e308, 20.0),
            (-1.0, 20.0),
        ] {
            assert_eq!(
                PressureCaution::of(volumes, celsius, BottleKind::Unknown),
                None
            );
        }
        assert!(is_over(caution(40.0, 20.0, BottleKind::Champagne)));
    }

    /// Place of a caution in the order from least to most.
    const fn severity(caution: PressureCaution) -> u8 {
        match caution {
            PressureCaution::WithinLimit { .. } => 0,
            PressureCaution::WarmStorage { .. } => 1,
            PressureCaution::CloseToLimit { .. } => 2,
            PressureCaution::TooWarm { .. } => 3,
            PressureCaution::OverLimit { .. } => 4,
        }
    }

    proptest! {
        #[test]
        fn more_gas_or_more_heat_never_calls_for_less_care(
            volumes in 0.5..6.0_f64,
            celsius in 0.0..50.0_f64,
            more in 0.0..2.0_f64,
            kind in 0..KINDS.len(),
        ) {
            let before = severity(caution(volumes, celsius, KINDS[kind]));
            prop_assert!(severity(caution(volumes + more, celsius, KINDS[kind])) >= before);
            prop_assert!(severity(caution(volumes, celsius + more, KINDS[kind])) >= before);
        }
    }

    #[test]
    fn the_usual_targets_of_the_trade_are_for_the_bottles_they_are_sold_in() {
        // Common targets in volumes (Draper): British ales 1.5 to 2.0, porter and stout 1.7 to 2.3,
        // Belgian ales 1.9 to 2.4, lagers 2.2 to 2.7, lambic 2.4 to 2.8, wheat beer 3.3 to 4.5, fruit
        // lambic 3.0 to 4.5.
        for volumes in [1.5, 2.0, 1.7, 2.3, 1.9, 2.4, 2.2, 2.7, 2.8] {
            let got = caution(volumes, 20.0, BottleKind::CrownOneWay);
            assert!(!is_over(got), "{volumes}");
        }
        for volumes in [3.3, 4.5] {
            assert!(is_over(caution(volumes, 20.0, BottleKind::CrownOneWay)));
            assert!(!is_over(caution(volumes, 20.0, BottleKind::Champagne)));
        }
    }

    #[test]
    fn a_limit_rests_on_no_proof_pressure() {
        // New beer bottles are proved at 1.2 MPa, 12 bar (GB 4544, from memory); sparkling wine has at
        // least 3 bar at 20 °C (EU law, from memory). No limit comes near half the proof, and the
        // heavy glass takes what it is made for.
        for kind in KINDS {
            let at_limit = caution(kind.limit_volumes(), 20.0, kind);
            let PressureCaution::CloseToLimit { bar, .. } = at_limit else {
                panic!("{at_limit:?}");
            };
            assert!(bar < 6.0, "{kind:?}: {bar}");
            assert!(kind != BottleKind::Champagne || bar > 3.0, "{bar}");
        }
    }

    #[test]
    fn a_sack_of_sugar_is_never_without_its_caution() {
        assert!(is_over(caution(26_000.0, 25.0, BottleKind::Champagne)));
    }
}
