//! What the JSON of a command holds, key by key, for its long help.

/// How the next recipe is asked for.
pub(super) const NEXT_EXAMPLES: &str = "Examples:
  thirdglass next S1
  thirdglass next S1 --all
  thirdglass next S1 --lock Saaz --forbid \"Roasted barley\" --alcohol 4.5-5.5
  thirdglass next S1 --at-home --changes 1
  thirdglass next S1 --diff
  thirdglass next S1 --write stout-3.toml
  thirdglass next S1 --json";

/// Every key of the next recipe, with its unit. A test holds this list against what is printed.
const NEXT_KEYS: &str = "In JSON (--json; keys are added, never renamed):
  format                the version of these keys, a whole number
  cap_mark              the batch
  recipe, version       the recipe it was brewed by
  glasses, days         how many glasses count, and on how many days they were tasted
  not_counted           sets of notes that do not count
  dangers               sentences on bad bottles of the batch
  astray                figures that the brew did not come to as written, in words
  wishes                what was asked for beside the taste, as it could be typed in the app
  tasters               who tasted them
  worth_changing        no-hopes, no-lever, not-yet, no-way, or yes
  remedies              smells that no recipe mends, a list of
    word                what was named
    found_by            by whom
    named_in, glasses   in how many glasses, of how many
    open_second_bottle  true as long as one bottle alone may be to blame
    suspects            what may be the cause, the likeliest first:
      says, odds        a sentence, and how often it leads to this
      tell_by, next_time  how to tell causes apart, and what to do; null where nothing is known
      logged            true where the log of the batch points at it
  hopes                 what was hoped for and matters, a list of
    line, label         the id of the line, and its words
    hoped, found        in digits from 0 to 9; found is null where nobody said anything
    gap, gap_interval   as far as it is believed, with where it lies 8 times in 10; null without a number
    standing            missed, met, may-be-noise, not-mentioned, or no-lever
    glasses_needed      more glasses of each taster, one a day, that would settle it; null if none would
  proposals             with one, two, three changes, a list of
    changes             a list of
      change            in words
      brings            the hopes it brings nearer:
        label, digits   which, and how far it moves them
      new_here          true of what this kitchen has not brewed with
    hopes, besides      lines that were hoped for, and others that move by half a digit:
      line, label, hoped  as above; hoped is null of the others
      now, then         in digits; then lies in
      interval          8 times in 10
    figures             physical figures, now and then:
      figure, unit      which
    chance_nearer       how likely the gap to all hopes really shrinks, 0 to 1
    gap                 the mean gap to the hopes, by what they matter, now and then, in digits
    cost                now and then, by the prices of the larder; null without prices
    tests               blind tests that would show it, any difference first:
      method, d_prime, answers, friends, sets_each, sittings
      attribute, more_in  the character asked for, and which beer should have more; null for any difference
      millilitres       of either beer:
        old, new        as it was, as changed
      alcohol_grams_each  for each friend
      affordable        true if a quarter of a batch is enough
    split               how one wort teaches more; null where it cannot be divided:
      kind, litres_each, worth_pairs_of_brews
  unmet                 wishes that cannot be had together, a sentence each
  litres                now and then; null where the volume stays
  model, catalogue      the versions of the rules, and of wheel and ingredients";

/// The long help of the next recipe.
pub(super) fn next_help() -> String {
    format!("{NEXT_EXAMPLES}\n\n{NEXT_KEYS}")
}

/// How a prediction is asked for.
pub(super) const PREDICT_EXAMPLES: &str = "Examples:
  thirdglass recipe predict stout.toml --json
  thirdglass recipe predict stout.toml --why bitter
  thirdglass recipe predict stout.toml --weeks 12
  thirdglass recipe predict stout.toml --taster Ana";

/// Every key of a prediction, as deep as it stands, with its unit. A test holds this list against what
/// is printed.
const PREDICT_KEYS: &str = "In JSON (--json; keys are added, never renamed):
  format                the version of these keys, a whole number
  recipe, version       the name of the recipe, and which version of it
  volume_l              litres into the fermenter
  weeks                 weeks in the bottle at 20 °C; null for a beer that has just become ready
  prediction            the figures:
    figures             one key a figure; what cannot be told is left out, and cautions say why:
      original-gravity      specific gravity 20/20 °C
      final-gravity         specific gravity 20/20 °C
      alcohol               % by volume at 20 °C
      real-extract          % by weight
      apparent-attenuation  %, as the hydrometer shows it; above 100 when it ends below water
      energy                kcal in 100 mL
      bitterness            IBU, mg of iso-alpha-acid in a litre
      colour                EBC units
      carbonation           volumes of carbon dioxide; only with a target or with sugar logged
      priming-sugar         g for the whole batch; only with a target
        value               the figure with everything as usual
        low, high           with everything at its low or high end; null where there is no range
        unit                the unit; empty for gravities
        origin              measured, from measurements, or from the recipe
    assumed             sentences: what was assumed because it is not stated
    cautions            sentences: what to take care of, the most pressing first
  profile               a list of lines, every scale and then every shelf worth a line:
    line                the id of the scale, or stage:shelf:id
    kind                scale or shelf
    words               what the line is called on screen
    predicted           what is predicted, in digits from 0 to 9:
      chance            of a shelf: how likely a taster names it, 0 to 1; null for a scale
      middle            the middle; of a shelf, how strong it is if it is named
      low, high         8 glasses in 10 lie between them
      why               a list, the largest part first:
        from            what it comes from
        part            of a scale: what that adds beside an ordinary beer, in the scale's unit;
                        of a shelf: its share of the whole, 0 to 1
    as_noted            how the taster would note it, with chance, middle, low and high as above;
                        null without --taster, and for lines of which nothing is learnt
  as_noted_by           what that rests on; null without --taster:
    taster              the name
    batches             how many batches it was learnt from
    used                false as long as there are too few of them
    range_factor        how much wider the glass strays than predicted, in standard deviations
    left_out            the check, each batch predicted from the others:
      batches           a list of
        cap_mark        the batch
        plain, learnt   the mean error without and with what was learnt, in digits
      plain, learnt     the same over all batches
      chance            how likely so large a gain is by luck, 0 to 1
      claimed           true if that is too small for luck
      claimed_from_batches  how many batches there must be for a claim";

/// The long help of a prediction: examples, then every key.
pub(super) fn predict_help() -> String {
    let why = "The keys of --why with --json: thirdglass shell schema recipe-predict-why";
    format!("{PREDICT_EXAMPLES}\n\n{why}\n\n{PREDICT_KEYS}")
}

/// How the history of a recipe is asked for.
pub(super) const HISTORY_EXAMPLES: &str = "Examples:
  thirdglass recipe history Harbour dark
  thirdglass recipe history \"Harbour dark\" --markdown
  thirdglass recipe history Harbour dark --json";

/// Every key of a history, as deep as it stands. A test holds this list against what is printed.
const HISTORY_KEYS: &str =
    "In JSON (--json; keys are added, never renamed; null is not known, never 0):
  format                the version of these keys, a whole number
  recipe                the name of its newest version
  kitchen               how far brews of one recipe lie apart:
    digits              the standard deviation of one brew, in digits from 0 to 9
    pairs               on how many pairs of brews it was measured; null while it is assumed
  versions              a list, each version followed by what came from it, the oldest first:
    name, version       what the recipe was called, and which version
    depth               how many versions stand above it
    parent              name and version of the one it came from; null for a beginning
    kept_on             the day on which its first batch was added
    reason              why it was made, in the brewer's words
    changes             sentences: what changed from its parent; null for a beginning
    promised            what the proposal said of which it was written; null without one:
      from              the cap mark of the batch whose notes it follows from
      altered           true if the file was altered after it was written
      proposed          sentences: the changes
      chance            how likely the gap to the hopes shrinks, 0 to 1
      lines             a list of what was to move, in digits from 0 to 9:
        line            the id of the scale, or stage:shelf:id
        words           what the line is called on screen
        now             what was in the glass
        hoped           what was hoped for
        low, expected, high  what was promised; 8 glasses in 10 lie between low and high
      test              the blind test that would show it; null where none can be had:
        method          the id of the method
        distance        the expected distance d′
        answers         how many answers it takes
    batches             a list of its batches:
      cap_mark          what is written on the caps
      brewed, packaged  days; null where they were not logged
      tasted            how many sets of notes are locked
      hopes             the hopes it met; null before it was tasted:
        as_meant        how many are within one digit
        differ          how many differ beyond the noise
        of              how many there are
      promise           what became of the promise; null without one, or without notes:
        before          the cap mark of the batch it is held against
        glasses         how many sets of notes of this batch and of the one before count
        cause           nothing-seen, consistent or the-change
        sentence        the verdict
        found           a list, all judged together:
          line          as above
          verdict       as promised, less or more than promised, the other way, or cannot tell yet
          change        the promised difference: a tenth below, expected, a tenth above
          noted         the mean difference noted
          size, range   the difference as far as it is more than noise; 8 times in 10 between
          more_glasses  how many more glasses of each would settle it
          beyond_brews  true if it moved further than two brews of one recipe differ
    tests               closed blind tests between this version and its parent, a list:
      number            the number of the test
      beers             the two cap marks
      method            the id of the method
      correct, answers  how many of how many
      p                 how often guessing does so well, 0 to 1; null if the test was watched
      sentence          the result";

/// The long help of a history: examples, then every key.
pub(super) fn history_help() -> String {
    format!("{HISTORY_EXAMPLES}\n\n{HISTORY_KEYS}")
}

/// How everything of a taster is asked for.
pub(super) const EXPORT_EXAMPLES: &str = "Examples:
  thirdglass taster export Ana ana.json
  thirdglass taster export Ana ana.csv --csv

The table of --csv has the columns of taster measure: taster, sitting, sample, replicate, date, line,
intensity, low, high. Amounts such as seconds stand in it as digits from 0 to 9.";

/// Every key of an export, as deep as it stands. A test holds this list against what is written.
const EXPORT_KEYS: &str = "In JSON (keys are added, never renamed; null is not said, never 0):
  format                the version of these keys, a whole number
  exported_at           when it was written; moments are in universal time
  taster, added_at      the name, and when it was added
  notes                 a list, the oldest first:
    beer                the cap mark; null while it is not told what is in the glasses
    code                on the glass
    sitting, kind       a drawn id of the occasion, and whether it was a tasting or two-glasses
    served_at           the place of the glass in its order, from 1; null where none was kept
    round               1, or 2 for the pass as it warms
    form, source        full or short; app, plain (line by line) or document
    knew, nose          what was known of the beer beforehand; the state of the nose
    tasted_on, typed_at   the day of tasting; when typing began
    seal_broken_at      when the plan was opened on purpose, if it was
    locked_at, left_at  when the notes became final, or were left without that
    bottle_fault        what was wrong with the bottle
    remark              free words at the end
    ratings             a list:
      scale, state      the id of the scale; rated, skipped or cannot-tell
      value, unit       the answer in its unit; null unless rated; no unit for digits 0 to 9
    words               a list, in the order named:
      stage             appearance, aroma, flavour, body or finish
      named, word       descriptor, shelf, place or own; its id, or own words
      intensity         0 to 9
      asked_for         true where the app asked for it
    watches             a list with scale:
      started_at, stopped_at   when the watch was started and stopped
    second_sniff        what was smelled once more after the lock, a list with word:
      answer, given_at  there, not-there or cannot-tell; when
      why_asked         hoped, promised or decoy; null before the last answer
  practices             a list:
    kind, told          what was practised; each, end or course: when answers are told
    begun_at, left_at   when it was begun and left
    items               a list, in the order asked:
      form              definition, place, pair, jar or presence
      word, options     what it was about, and what could be chosen
      code, glass       on the jar or glass; whether it was spiked or plain
      answers           a list, the last of a kind counts:
        reply, chosen   place, shelf, word, presence or cannot-tell; what was chosen
        certainty       how sure, in %
        given_at        when
    series              glasses from weak to strong, with scale, code and answers:
      step              1 for the weakest, 5 for the strongest; a reply is rated or placed
  tests                 blind tests, a list:
    number, role        of the test; taster, pouring-taster, pourer or server
    key_seen_at         when the key was seen
    closed_at           when the test was closed; before that no code is told
    answers             a list with code, source and given_at:
      set               which set, from 1
      right             null where no answer is right, and before the test is closed
      sureness          guess, rather or sure
      prefers           the cap mark of the one liked better
      differences       what differed, in words
      corrected         true where a later answer stands in its place
  courses               a list with begun_at:
    name, meetings      the course, and how many meetings it has
  poured_panels         the numbers of panels that were poured
  imported              ratings kept elsewhere and read in, with sitting, scale and tasted_on:
    sample, replicate   what was in the glass; which glass of it
    value               the answer on 0 to 9
  held_back             sentences: what is left out for now, and until when";

/// The long help of an export: examples, then every key.
pub(super) fn export_help() -> String {
    format!("{EXPORT_EXAMPLES}\n\n{EXPORT_KEYS}")
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::reports::history_json;
    use crate::reports::next_json;
    use crate::workflow::told_history;
    use crate::workflow::told_next;
    use serde_json::Value;

    /// The keys of a list in a help text: what stands before two blanks, unless it goes on with the words above.
    fn listed(help: &str) -> BTreeSet<String> {
        let heads = help.lines().skip(1).filter_map(|line| {
            let entry = line.trim_start();
            (line.len() - entry.len() < 20).then(|| entry.split("  ").next().unwrap_or_default())
        });
        let heads = heads.filter(|it| !it.is_empty());
        heads
            .flat_map(|it| it.split(", ").map(str::to_owned))
            .collect()
    }

    fn keys(value: &Value, found: &mut BTreeSet<String>) {
        match value {
            Value::Object(all) => {
                for (key, value) in all {
                    found.insert(key.clone());
                    keys(value, found);
                }
            }
            Value::Array(all) => all.iter().for_each(|it| keys(it, found)),
            _ => {}
        }
    }

    #[test]
    fn the_help_of_the_next_recipe_names_every_key_of_its_json_and_no_other() {
        let json = next_json(&told_next());
        for list in [
            "/remedies/0/suspects/0",
            "/hopes/0/gap_interval/0",
            "/proposals/0/changes/0/brings/0",
            "/proposals/0/besides/0",
            "/proposals/0/tests/1/attribute",
            "/proposals/0/split/kind",
            "/proposals/0/cost/now",
            "/litres/now",
        ] {
            assert!(json.pointer(list).is_some(), "{list}: {json:#}");
        }
        let mut printed = BTreeSet::new();
        keys(&json, &mut printed);
        assert_eq!(listed(NEXT_KEYS), printed);
    }

    #[test]
    fn the_help_of_a_history_names_every_key_of_its_json_and_no_other() {
        let json = history_json(&told_history());
        // Where a list is empty none of its keys can be seen.
        for list in [
            "/versions/1/tests/0",
            "/versions/1/promised/test/method",
            "/versions/1/batches/0/promise/found/0",
        ] {
            assert!(json.pointer(list).is_some(), "{list}: {json:#}");
        }
        let mut printed = BTreeSet::new();
        keys(&json, &mut printed);
        assert_eq!(listed(HISTORY_KEYS), printed);
    }
}
