//! The figures behind the result of a blind test, as sentences and as JSON.

use serde_json::Value;
use serde_json::json;

use crate::domain::Name;
use crate::domain::Purpose;
use crate::domain::Stopping;
use crate::domain::Sureness;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::blind_words::percent;
use crate::reports::blind_words::times_in;
use crate::reports::comparison_report::wrapped;
use crate::reports::pair_json;
use crate::statistics::Count;
use crate::statistics::Probability;
use crate::statistics::ProportionPrior;
use crate::statistics::ProportionReading;
use crate::statistics::Stand;
use crate::workflow::DPrime;
use crate::workflow::Distance;
use crate::workflow::OpenedAnswer;
use crate::workflow::SamePair;
use crate::workflow::Sequence;
use crate::workflow::Standing;
use crate::workflow::TasterAnswers;
use crate::workflow::TestResult;
use crate::workflow::Verdict;
use crate::workflow::Ways;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// A share of people that is worth telling from none.
const SOME: f64 = 0.1;

/// What limits leave out.
const OUTSIDE: f64 = 0.05;

/// The figures as lines of at most `cells` cells.
pub(super) fn figure_lines(it: &TestResult, cells: usize) -> Vec<Line> {
    let mut lines = vec![Line::blank(), Line::of(Ink::Strong, "The figures")];
    let mut said = count_words(it);
    said.extend(share_words(it));
    said.extend(alike_words(it));
    said.extend(replicate_words(it));
    said.extend(belief_words(it));
    if let Some(sequence) = &it.sequence {
        said.extend(sequence_words(sequence));
    }
    for text in said {
        lines.extend(wrapped(Ink::Plain, &format!("  {text}"), cells));
    }
    lines
}

fn count_words(it: &TestResult) -> Vec<String> {
    let all = &it.analysis;
    let mut said = vec![format!(
        "{} of {}, guessing {}; p = {:.4}, exact, {}; a difference from {} on; power {} at pd {}",
        all.count.hits(),
        all.count.tries(),
        percent(it.planned.method.guess().get()),
        all.p.get(),
        match it.planned.method.ways {
            Ways::One => "one-sided",
            Ways::Either => "two-sided",
        },
        all.critical
            .map_or("no count".to_owned(), |it| it.to_string()),
        percent(all.power.get()),
        percent(it.planned.test.aims.pd.get())
    )];
    said.push(match &all.repeat {
        Ok(sizes) if sizes.first.trials == sizes.stable.trials => {
            format!("A repeat with these risks takes {} answers.", sizes.first.trials)
        }
        Ok(sizes) => format!(
            "A repeat with these risks takes {} answers, or better {}: between them a few more can fall short again.",
            sizes.first.trials, sizes.stable.trials
        ),
        Err(refused) => format!("A repeat: {refused}."),
    });
    said
}

fn share_words(it: &TestResult) -> Vec<String> {
    let all = &it.analysis;
    let mut said = Vec::new();
    if all.replicates.is_none() {
        said.push(format!(
            "Proportion of discriminators pd {} (as it comes out {:+.2}), exact 95 % limits {} to {}; at most {} (one-sided)",
            percent(all.pd.get()),
            all.pd_raw,
            percent(all.pd_limits.low.get()),
            percent(all.pd_limits.high.get()),
            percent(all.pd_at_most.get())
        ));
        said.push(format!(
            "By the likelihood {} to {}; these limits hold less often than 19 times in 20.",
            percent(all.pd_likely.low.get()),
            percent(all.pd_likely.high.get())
        ));
    }
    said.push(distance_words(&all.distance));
    said
}

fn distance_words(it: &Distance) -> String {
    let high = it
        .high
        .map_or("no upper end".to_owned(), |it| format!("{:.2}", it.get()));
    match it.likeliest {
        Some(likeliest) => format!(
            "Distance d′ {:.2}, exact 95 % limits {:.2} to {high}",
            likeliest.get(),
            it.low.get()
        ),
        None => format!(
            "Distance d′ at least {:.2} (one-sided): all were right, and every larger one fits too",
            it.at_least.get()
        ),
    }
}

/// Likeness, where the test was planned to show it: any other test says nothing about it.
fn alike_words(it: &TestResult) -> Option<String> {
    if it.planned.test.purpose != Purpose::Similarity {
        return None;
    }
    let (verdict, similarity) = it.analysis.alike.as_ref()?;
    let most = similarity.most?;
    let below = match similarity.standing {
        Standing::BelowChance => {
            "; that is below what guessing gives, so nothing should be concluded from it"
        }
        Standing::FromChanceOn => "",
    };
    let shown = match verdict {
        Verdict::Shown => "shown to be alike enough",
        Verdict::NotShown => "not shown to be alike enough",
        Verdict::CannotBeShown => "so few answers cannot show that they are alike",
    };
    Some(format!(
        "Likeness: {shown} (at most {most} right, with a risk of {} at pd {}{below}).",
        percent(similarity.true_beta.get()),
        percent(it.planned.test.aims.pd.get())
    ))
}

fn replicate_words(it: &TestResult) -> Vec<String> {
    let Some(replicates) = &it.analysis.replicates else {
        return Vec::new();
    };
    let mut said = Vec::new();
    if let Some(spread) = replicates.spread {
        said.push(format!(
            "Tasters differ more than one common chance has it with p = {:.3} (Tarone's Z {:.2}, an approximation).",
            spread.p.get(),
            spread.z
        ));
    }
    if let Some(population) = &replicates.population {
        let limits = Probability::new(OUTSIDE).map(|it| population.limits(it));
        let limits = limits.map_or_else(String::new, |it| {
            format!(
                ", 19 times in 20 between {} and {}",
                percent(it.low.get()),
                percent(it.high.get())
            )
        });
        said.push(format!(
            "Among such tasters pd {}{limits}; from the grid of noise within and between tasters.",
            percent(population.mean().get())
        ));
    }
    said
}

fn belief_words(it: &TestResult) -> Vec<String> {
    let guess = it.planned.method.guess();
    let prior = ProportionPrior::EVEN_HANDED.after(Count::NONE, guess);
    let after = &it.analysis.reading;
    let belief = |reading: &ProportionReading| {
        let some = Probability::new(SOME).map_or(0.0, |it| reading.above(it).get());
        (reading.none().get(), some)
    };
    let ((none_before, some_before), (none, some)) = (belief(&prior), belief(after));
    vec![
        format!(
            "Believed before: nobody can tell {}, more than one in ten can {}. After: {} and {}.",
            percent(none_before),
            percent(some_before),
            percent(none),
            percent(some)
        ),
        format!(
            "The answers fit a difference {:.2} times as well as none (e-value; it may be looked at at any time).",
            after.e_value()
        ),
    ]
}

fn sequence_words(it: &Sequence) -> Vec<String> {
    vec![format!(
        "The rule's own errors, cut as planned: a false difference {}, a missed one {}, undecided {} or {}; {:.1} answers on average if the two are the same. A p-value of a test that may stop early means nothing.",
        times_in(it.same.other.get()),
        times_in(it.different.null.get()),
        percent(it.same.undecided.get()),
        percent(it.different.undecided.get()),
        it.same.mean_length
    )]
}

/// A result as JSON, with all tests of the same two beers under `pair`.
#[must_use]
pub fn result_json(it: &TestResult, pair: &SamePair) -> Value {
    let all = &it.analysis;
    // A test that was watched has no p-value.
    let is_fixed = it.planned.test.stopping == Stopping::Fixed;
    json!({
        "format": VERSION,
        "number": it.planned.test.number,
        "beers": it.planned.beers.each_ref().map(|it| it.cap_mark.as_str()),
        "method": it.planned.method.id,
        "purpose": it.planned.test.purpose.id(),
        "stopping": it.planned.test.stopping.id(),
        "pouring": it.planned.test.pouring.id(),
        "correct": all.count.hits(),
        "answers": all.count.tries(),
        "missing": it.missing,
        "guess": it.planned.method.guess().get(),
        "p": is_fixed.then(|| all.p.get()),
        "critical": all.critical,
        "different": verdict_word(all.different),
        "power": all.power.get(),
        "pd": { "raw": all.pd_raw, "value": all.pd.get(), "low": all.pd_limits.low.get(), "high": all.pd_limits.high.get(), "at_least": all.pd_at_least.get(), "at_most": all.pd_at_most.get() },
        "pd_likelihood": { "low": all.pd_likely.low.get(), "high": all.pd_likely.high.get() },
        "d_prime": { "value": all.distance.likeliest.map(DPrime::get), "low": all.distance.low.get(), "high": all.distance.high.map(DPrime::get) },
        "repeat": all.repeat.as_ref().ok().map(|it| json!({ "first": it.first.trials, "stable": it.stable.trials })),
        "similarity": all.alike.as_ref().map(|(verdict, it)| json!({ "verdict": verdict_word(*verdict), "most": it.most, "below_chance": it.standing == Standing::BelowChance, "true_beta": it.true_beta.get() })),
        "overdispersion_p": all.replicates.as_ref().and_then(|it| it.spread).map(|it| it.p.get()),
        "e_value": all.reading.e_value(),
        "nobody_can": all.reading.none().get(),
        "sequence": it.sequence.as_ref().map(sequence_json),
        "tasters": it.tasters.iter().map(taster_json).collect::<Vec<_>>(),
        "pair": pair_json(pair),
        "commitment": it.planned.test.commitment,
        "commitment_holds": it.kept_its_word,
        "plan": it.planned.plan_text(),
    })
}

fn sequence_json(it: &Sequence) -> Value {
    json!({
        "stand": stand_word(it.stand),
        "correct": it.count.hits(),
        "answers": it.count.tries(),
        "false_difference": it.same.other.get(),
        "missed_difference": it.different.null.get(),
    })
}

fn taster_json(it: &TasterAnswers) -> Value {
    json!({
        "taster": it.taster.as_str(),
        "correct": it.count.hits(),
        "answers": it.answers.iter().map(answer_json).collect::<Vec<_>>(),
    })
}

const fn stand_word(stand: Stand) -> &'static str {
    match stand {
        Stand::Null => "no-difference",
        Stand::Other => "difference",
        Stand::GoOn => "undecided",
    }
}

const fn verdict_word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Shown => "shown",
        Verdict::NotShown => "not shown",
        Verdict::CannotBeShown => "cannot be shown",
    }
}

fn answer_json(it: &OpenedAnswer) -> Value {
    json!({
        "set": it.round,
        "right": it.right,
        "order": it.order,
        "chosen_position": it.position,
        "sureness": it.sureness.map(Sureness::id),
        "prefers": it.prefers.as_ref().map(Name::as_str),
        "words": it.words,
    })
}
