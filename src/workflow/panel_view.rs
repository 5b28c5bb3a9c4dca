//! What a panel found: by codes while they talk, by beers once it was told, and one's own page.

use crate::domain::BlindingCode;
use crate::domain::Knew;
use crate::domain::Name;
use crate::domain::Notes;
use crate::domain::Rating;
use crate::domain::Sample;
use crate::domain::Scale;
use crate::profile::Noise;
use crate::profile::NoiseBasis;
use crate::storage::NotesRow;
use crate::workflow::Apart;
use crate::workflow::Home;
use crate::workflow::PanelError;
use crate::workflow::PanelLine;
use crate::workflow::PanelPhase;
use crate::workflow::PanelTable;
use crate::workflow::PanelWord;
use crate::workflow::WorkflowError;
use crate::workflow::panel_cost::scales_of;
use crate::workflow::panel_voices::Voice;
use crate::workflow::panel_voices::apart;
use crate::workflow::panel_voices::lines;
use crate::workflow::panel_voices::words;
use crate::workflow::taster_noise::TasterNoise;

/// One glass while they talk: nothing of what is in it.
#[derive(Debug, Clone, PartialEq)]
pub struct TalkGlass {
    /// Its code.
    pub code: BlindingCode,
    /// Its scales.
    pub lines: Vec<PanelLine>,
    /// Its words.
    pub words: Vec<PanelWord>,
    /// How many tasters had a bad bottle of it.
    pub faulty: usize,
}

/// What a panel talks about.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelTalk {
    /// The panel with its people.
    pub table: PanelTable,
    /// The glasses by rising code.
    pub glasses: Vec<TalkGlass>,
    /// Who stands apart, by the places of the glasses.
    pub apart: Vec<Apart>,
    /// Who knew what was in the glasses, and so is not counted.
    pub knew: Vec<Name>,
    /// What the noise rests on by which it was judged who stands apart, the weakest of all.
    pub noise: NoiseBasis,
}

/// One beer once it was told.
#[derive(Debug, Clone, PartialEq)]
pub struct ResultBeer {
    /// The cap mark.
    pub mark: Name,
    /// The codes of its glasses, rising.
    pub codes: Vec<BlindingCode>,
    /// Its scales.
    pub lines: Vec<PanelLine>,
    /// Its words.
    pub words: Vec<PanelWord>,
    /// How much it was liked, apart from the profile.
    pub liking: Option<PanelLine>,
    /// How many glasses of it came from a bad bottle.
    pub faulty: usize,
}

/// What a panel found.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelResult {
    /// The panel with its people.
    pub table: PanelTable,
    /// The beers by cap mark.
    pub beers: Vec<ResultBeer>,
    /// Who stands apart, by the places of the beers.
    pub apart: Vec<Apart>,
    /// Who knew what was in the glasses, and so is not counted.
    pub knew: Vec<Name>,
    /// What the noise rests on by which it was judged who stands apart, the weakest of all.
    pub noise: NoiseBasis,
}

/// The two answers of one taster to one beer that stood before them two times.
#[derive(Debug, Clone, PartialEq)]
pub struct DoubledPair {
    /// The cap mark.
    pub mark: Name,
    /// The two codes, the one tasted earlier first.
    pub codes: [BlindingCode; 2],
    /// The scales on which both were given a number, in the unit of the scale.
    pub lines: Vec<(&'static Scale, [f64; 2])>,
}

impl DoubledPair {
    /// On how many scales the two answers lie at most one digit apart.
    #[must_use]
    pub fn close(&self) -> usize {
        let close = |it: &&(&'static Scale, [f64; 2])| {
            let [one, other] = it.1.map(|value| it.0.digits(value));
            (one - other).abs() <= 1.0
        };
        self.lines.iter().filter(close).count()
    }
}

/// What only one taster is to see.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnPage {
    /// The number of the panel.
    pub number: u32,
    /// Who.
    pub taster: Name,
    /// Their answers to what stood before them two times.
    pub pairs: Vec<DoubledPair>,
    /// Where they stand apart: the beer with it.
    pub apart: Vec<(Name, Apart)>,
}

/// The glasses of a panel with all notes that are locked.
struct Gathered {
    table: PanelTable,
    samples: Vec<Sample>,
    notes: Vec<(NotesRow, Notes)>,
    knew: Vec<Name>,
}

impl Home {
    /// The name of one who sits at a panel as it is kept; none where nobody was asked for.
    ///
    /// # Errors
    /// There is no such panel, or nobody of that name sits at it.
    pub fn seated_name(
        &self,
        number: u32,
        asked: Option<&str>,
    ) -> Result<Option<Name>, WorkflowError> {
        let Some(name) = asked else { return Ok(None) };
        let table = self.panel_table(number)?;
        Ok(Some(table.person(name)?.taster.name.clone()))
    }

    /// What a panel talks about once everybody has tasted alone: each glass by its code.
    ///
    /// # Errors
    /// Somebody still tastes, or the store cannot be read.
    pub fn panel_talk(&self, number: u32) -> Result<PanelTalk, WorkflowError> {
        let gathered = self.gathered(number)?;
        let scales = scales_of(gathered.table.panel.form);
        let mut samples: Vec<&Sample> = gathered.samples.iter().collect();
        samples.sort_by_key(|it| it.code);
        let voices: Vec<Vec<Voice>> = samples.iter().map(|it| gathered.voices(&[*it])).collect();
        let glasses = samples
            .iter()
            .zip(&voices)
            .map(|(sample, voices)| TalkGlass {
                code: sample.code,
                lines: lines(voices, &scales),
                words: words(self.wheel(), voices),
                faulty: gathered.faulty(&[*sample]),
            });
        let noise = self.taster_noise()?;
        Ok(PanelTalk {
            noise: gathered.noise_basis(&scales, &noise),
            glasses: glasses.collect(),
            apart: apart(&voices, &scales, &|name, scale| noise.on_scale(name, scale)),
            knew: gathered.knew,
            table: gathered.table,
        })
    }

    /// What a panel found, by beers.
    ///
    /// # Errors
    /// It was not told yet, or the store cannot be read.
    pub fn panel_result(&self, number: u32) -> Result<PanelResult, WorkflowError> {
        let gathered = self.told(number)?;
        let scales = scales_of(gathered.table.panel.form);
        let liking = [Scale::from_id("liking")?];
        let mut beers = Vec::new();
        let mut all = Vec::new();
        for beer in self.beers_of(&gathered.samples)? {
            let mut own: Vec<&Sample> = gathered.samples.iter().collect();
            own.retain(|it| it.beer == beer.id);
            own.sort_by_key(|it| it.code);
            let voices = gathered.voices(&own);
            beers.push(ResultBeer {
                mark: beer.cap_mark,
                codes: own.iter().map(|it| it.code).collect(),
                lines: lines(&voices, &scales),
                words: words(self.wheel(), &voices),
                liking: lines(&voices, &liking).pop(),
                faulty: gathered.faulty(&own),
            });
            all.push(voices);
        }
        let noise = self.taster_noise()?;
        Ok(PanelResult {
            noise: gathered.noise_basis(&scales, &noise),
            apart: apart(&all, &scales, &|name, scale| noise.on_scale(name, scale)),
            knew: gathered.knew,
            table: gathered.table,
            beers,
        })
    }

    /// What only this taster is to see of a panel.
    ///
    /// # Errors
    /// It was not told yet, they have no seat, or the store cannot be read.
    pub fn panel_own_page(&self, number: u32, name: &str) -> Result<OwnPage, WorkflowError> {
        let result = self.panel_result(number)?;
        let gathered = self.told(number)?;
        let person = gathered.table.person(name)?.clone();
        let order = self.codes_of(&person.seat, &gathered.samples)?;
        let mut pairs = Vec::new();
        for copy in &gathered.samples {
            let originals = gathered.samples.iter();
            let original = originals.filter(|it| Some(&it.id) == copy.duplicate_of.as_ref());
            for original in original {
                let mut two = [original, copy];
                two.sort_by_key(|it| order.iter().position(|code| *code == it.code));
                if let Some(beer) = self.store.beer(&copy.beer)? {
                    pairs.push(DoubledPair {
                        mark: beer.cap_mark,
                        codes: two.map(|it| it.code),
                        lines: gathered.pair(&person.taster.name, two),
                    });
                }
            }
        }
        let own = |it: &Apart| it.taster == person.taster.name;
        let marks = |it: Apart| Some((result.beers.get(it.at)?.mark.clone(), it));
        let apart = result.apart.iter().filter(|it| own(it)).cloned();
        Ok(OwnPage {
            number,
            pairs,
            apart: apart.filter_map(marks).collect(),
            taster: person.taster.name,
        })
    }

    fn told(&self, number: u32) -> Result<Gathered, WorkflowError> {
        let gathered = self.gathered_any(number)?;
        if gathered.table.phase() != PanelPhase::Told {
            return Err(PanelError::NotTold { number }.into());
        }
        Ok(gathered)
    }

    fn gathered(&self, number: u32) -> Result<Gathered, WorkflowError> {
        let gathered = self.gathered_any(number)?;
        if gathered.table.phase() == PanelPhase::Tasting {
            let waits_for = gathered.table.waits_for();
            return Err(PanelError::StillTasting { number, waits_for }.into());
        }
        Ok(gathered)
    }

    fn gathered_any(&self, number: u32) -> Result<Gathered, WorkflowError> {
        let table = self.panel_table(number)?;
        let mut notes = Vec::new();
        for row in self.store.notes_of_sitting(&table.panel.sitting)? {
            if row.locked_at.is_some() {
                let (whole, _, _) = self.store.notes_with_row(&row.notes)?;
                notes.push((row, whole));
            }
        }
        let mut knew: Vec<Name> = Vec::new();
        // What somebody learnt after the talk makes nothing of what they said before it.
        let first = notes.iter().filter(|it| it.1.round == 1);
        for (row, notes) in first.clone() {
            if is_told(notes) && !knew.contains(&row.taster.name) {
                knew.push(row.taster.name.clone());
            }
        }
        // Where everybody knew, they are all there is.
        let mut first = first;
        if first.all(|it| knew.contains(&it.0.taster.name)) {
            knew.clear();
        }
        Ok(Gathered {
            samples: self.store.samples_of(&table.panel.sitting)?,
            table,
            notes,
            knew,
        })
    }
}

/// Notes of somebody who knew what was in the glass.
const fn is_told(notes: &Notes) -> bool {
    let knew = matches!(notes.knew, Some(Knew::EarlierReveal | Knew::Recipe));
    knew || notes.seal_broken_at.is_some()
}

impl Gathered {
    /// What the noise of the people of this panel rests on.
    fn noise_basis(&self, scales: &[&'static Scale], noise: &TasterNoise) -> NoiseBasis {
        let people = self.table.people.iter();
        let each = people.flat_map(|it| scales.iter().map(|scale| (&it.taster.name, *scale)));
        let each = each.map(|(name, scale)| noise.on_scale(name, scale));
        let basis = each.map(Noise::basis);
        basis
            .reduce(NoiseBasis::with)
            .unwrap_or(Noise::DEFAULT.basis())
    }

    /// What every taster who counts says of some glasses of one beer.
    fn voices(&self, samples: &[&Sample]) -> Vec<Voice> {
        let people = self.table.people.iter();
        let counts = people.filter(|it| !self.knew.contains(&it.taster.name));
        counts
            .map(|person| {
                let name = &person.taster.name;
                let of = |round| {
                    let notes = samples
                        .iter()
                        .filter_map(move |it| self.of(name, it, round));
                    notes.cloned().collect::<Vec<Notes>>()
                };
                let first = of(1);
                let again = of(2);
                let latest = first.iter().map(|it| {
                    let mut again = again.iter();
                    again.find(|other| other.sample == it.sample).unwrap_or(it)
                });
                Voice {
                    taster: name.clone(),
                    after: latest.cloned().collect(),
                    first,
                }
            })
            .collect()
    }

    /// The locked notes of a taster on a glass of a sound bottle.
    fn of(&self, name: &Name, sample: &Sample, round: u8) -> Option<&Notes> {
        let own = |it: &&(NotesRow, Notes)| {
            it.0.taster.name == *name && it.1.sample == sample.id && it.1.round == round
        };
        let found = self.notes.iter().find(own)?;
        found.1.bottle_fault.is_none().then_some(&found.1)
    }

    /// How many glasses came from a bad bottle.
    fn faulty(&self, samples: &[&Sample]) -> usize {
        let bad = |it: &&(NotesRow, Notes)| {
            it.1.bottle_fault.is_some() && samples.iter().any(|of| of.id == it.1.sample)
        };
        self.notes.iter().filter(bad).count()
    }

    /// The scales on which a taster gave both glasses a number.
    fn pair(&self, name: &Name, two: [&Sample; 2]) -> Vec<(&'static Scale, [f64; 2])> {
        let [one, other] = two.map(|it| self.of(name, it, 1));
        let (Some(one), Some(other)) = (one, other) else {
            return Vec::new();
        };
        let value = |notes: &Notes, scale| notes.rating(scale).and_then(Rating::value);
        let scales = scales_of(self.table.panel.form).into_iter();
        scales
            .filter_map(|scale| Some((scale, [value(one, scale)?, value(other, scale)?])))
            .collect()
    }
}
