//! A recipe file written section by section from answers, with a comment wherever something is missing.

use std::collections::HashSet;

use crate::domain::Name;
use crate::formats::answer_text::OneAmount;
use crate::formats::answer_text::one_amount;
use crate::formats::answer_text::quoted;
use crate::formats::answer_text::take_amount;
use crate::formats::answer_text::words;
use crate::formats::grist_answer::GristAnswer;
use crate::formats::grist_answer::grist_answers;
use crate::formats::grist_answer::yeast_answer;
use crate::formats::hop_answer::HopAnswer;
use crate::formats::hop_answer::hop_answers;
use crate::formats::hope_answer::hope_answers;
use crate::formats::new_recipe::NotKept;
use crate::formats::new_recipe::WrittenRecipe;
use crate::formats::packaging_answer::PackagingAnswer;
use crate::formats::quantity_text::Measured;
use crate::formats::quantity_text::TEMPERATURE;
use crate::formats::quantity_text::TIME;
use crate::formats::quantity_text::VOLUME;
use crate::formats::scale_answer::ScaleAnswers;

/// The file as far as it is written.
#[derive(Default)]
pub(crate) struct Paper {
    text: String,
    not_kept: Vec<NotKept>,
}

/// A key of the file, what it says, and a line that would do.
#[derive(Clone, Copy)]
struct Wanted {
    key: &'static str,
    what: &'static str,
    example: &'static str,
}

const fn wanted(key: &'static str, what: &'static str, example: &'static str) -> Wanted {
    Wanted { key, what, example }
}

const NAME: Wanted = wanted("name", "the name", "name = \"Harbour dark\"");
const LITRES: Wanted = wanted(
    "volume",
    "the volume, without which nothing can be reckoned",
    "volume = \"5 L\"",
);
const MASH: Wanted = wanted(
    "temperature",
    "the mash temperature",
    "temperature = \"66 °C\"",
);
const MALT: Wanted = wanted(
    "name",
    "which malt or sugar this is",
    "name = \"Pale malt\"",
);
const MALT_AMOUNT: Wanted = wanted(
    "amount",
    "how much of this malt or sugar",
    "amount = \"1 kg\"",
);
const HOP: Wanted = wanted("name", "which hop this is", "name = \"Saaz\"");
const HOP_AMOUNT: Wanted = wanted("amount", "how much of this hop", "amount = \"10 g\"");
const HOP_TIME: Wanted = wanted("boil", "when this hop goes in", "boil = \"60 min\"");
const YEAST: Wanted = wanted("name", "the yeast", "name = \"Clean ale yeast\"");
const YEAST_AMOUNT: Wanted = wanted(
    "name",
    "the yeast, which stands without its amount",
    "name = \"Clean ale yeast\"",
);
const FERMENTATION: Wanted = wanted(
    "temperature",
    "the fermentation temperature",
    "temperature = \"19 °C\"",
);
const GAS: Wanted = wanted("target", "how fizzy", "target = \"2.4 vol\"");
const PRIMING: Wanted = wanted("priming", "the priming sugar", "priming = \"sucrose\"");
const BOTTLE: Wanted = wanted(
    "bottle",
    "the kind of bottle, which decides what pressure is safe",
    "bottle = \"crown\"",
);
const HOPE: Wanted = wanted(
    "",
    "what you hope to smell and taste",
    "\"orange peel\" = { aroma = 5, flavour = 4 }",
);
const STRENGTH: Wanted = wanted("", "how strong, from 0 to 9", HOPE.example);
const BITTER: Wanted = wanted("bitter", "how bitter", "bitter = 5");
const COLOUR: Wanted = wanted("colour", "the colour", "colour = \"25 EBC\"");

impl Paper {
    /// The whole file.
    pub(crate) fn finished(self) -> WrittenRecipe {
        WrittenRecipe {
            text: self.text,
            not_kept: self.not_kept,
        }
    }

    fn line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    fn value(&mut self, key: &str, text: &str) {
        self.line(&format!("{key} = {}", quoted(text)));
    }

    /// A comment line; answers in it are free of line breaks since `known` took them out.
    fn note(&mut self, note: &str) {
        self.line(&format!("# {note}"));
    }

    /// What is missing because nothing was said about it, with a line that would do.
    fn missing(&mut self, it: Wanted) {
        let what = it.what;
        self.note(&format!(
            "Missing: {what}. Write it like this, without the #:"
        ));
        self.note(it.example);
    }

    /// What is missing because the answer could not be used.
    fn unusable(&mut self, it: Wanted, answer: &str) {
        let what = it.what;
        self.note(&format!(
            "Missing: {what} (your answer: {answer}). Write it like this, without the #:"
        ));
        self.note(it.example);
        self.tell(it, answer);
    }

    fn missing_or_unusable(&mut self, it: Wanted, answer: Option<&str>) {
        match answer {
            Some(answer) => self.unusable(it, answer),
            None => self.missing(it),
        }
    }

    /// Parts of an answer that stand nowhere in the file.
    fn leave_out(&mut self, about: Wanted, parts: &[String]) {
        for part in parts {
            self.note(&format!("Not kept of your answer: {part}"));
            self.tell(about, part);
        }
    }

    fn tell(&mut self, about: Wanted, said: &str) {
        self.not_kept.push(NotKept {
            about: about.what,
            said: said.to_owned(),
            example: about.example,
        });
    }

    /// A line with an amount, or what is missing.
    fn amount(&mut self, it: Wanted, measured: (&Measured, &str), answer: Option<&str>) {
        let (measured, unit) = measured;
        match answer.and_then(|answer| one_amount(measured, unit, answer)) {
            Some(OneAmount { amount, left }) => {
                self.value(it.key, &amount);
                if !left.is_empty() {
                    self.leave_out(it, &[left.join(" ")]);
                }
            }
            None => self.missing_or_unusable(it, answer),
        }
    }

    pub(crate) fn head(&mut self, name: Option<&str>, volume: Option<&str>) {
        self.note("A recipe. What is not known stays out; the prediction only gets wider.");
        self.line("");
        let name = name.unwrap_or("New recipe");
        self.value(NAME.key, name);
        let rest: String = name.chars().skip(Name::MOST).collect();
        if !rest.is_empty() {
            self.leave_out(NAME, &[rest]);
        }
        self.line("version = \"1\"");
        self.note("Volume into the fermenter.");
        self.amount(LITRES, (&VOLUME, "L"), volume);
    }

    pub(crate) fn mash(&mut self, answer: Option<&str>) {
        self.line("\n[mash]");
        // The answer may say how long, too: 66 °C for 60 min.
        let mut words = answer.map(words).unwrap_or_default();
        let time = take_amount(&TIME, &mut words);
        let rest = words.join(" ");
        match time {
            Some(time) if one_amount(&TEMPERATURE, "°C", &rest).is_some() => {
                self.amount(MASH, (&TEMPERATURE, "°C"), Some(&rest));
                self.value("time", &time);
            }
            _ => self.amount(MASH, (&TEMPERATURE, "°C"), answer),
        }
    }

    pub(crate) fn grist(&mut self, answer: Option<&str>) {
        self.line("");
        self.note("Malt, grain, sugar, honey, extract: one table each.");
        let parts = answer.map(grist_answers).unwrap_or_default();
        if parts.is_empty() {
            self.missing(wanted(
                "",
                "the malts, without which there is no beer",
                "[[fermentable]]",
            ));
            self.note(MALT.example);
            self.note(MALT_AMOUNT.example);
        }
        for part in parts {
            self.fermentable(&part);
        }
    }

    fn fermentable(&mut self, part: &GristAnswer) {
        let Some(name) = &part.name else {
            self.unusable(MALT, &part.said);
            return;
        };
        self.line("[[fermentable]]");
        self.value(MALT.key, name);
        match &part.amount {
            Some(amount) => self.value(MALT_AMOUNT.key, amount),
            None => self.unusable(MALT_AMOUNT, &part.said),
        }
    }

    pub(crate) fn hops(&mut self, answer: Option<&str>) {
        self.line("");
        self.note("Hops: one table a charge; each with one of boil, whirlpool and dry.");
        let charges = answer.map(hop_answers).unwrap_or_default();
        if charges.is_empty() {
            self.missing(wanted("", "the hops, if there are any", "[[hop]]"));
            for it in [HOP, HOP_AMOUNT, HOP_TIME] {
                self.note(it.example);
            }
        }
        for charge in charges {
            self.hop(&charge);
        }
    }

    fn hop(&mut self, charge: &HopAnswer) {
        let Some(name) = &charge.name else {
            self.unusable(HOP, &charge.said);
            return;
        };
        self.line("[[hop]]");
        self.value(HOP.key, name);
        match &charge.amount {
            Some(amount) => self.value(HOP_AMOUNT.key, amount),
            None => self.unusable(HOP_AMOUNT, &charge.said),
        }
        if let Some(alpha) = &charge.alpha {
            self.value("alpha", alpha);
        }
        match &charge.when {
            Some(when) => {
                self.line(when);
                self.leave_out(HOP_TIME, &charge.left);
            }
            None => self.unusable(HOP_TIME, &charge.said),
        }
    }

    pub(crate) fn yeast(&mut self, answer: Option<&str>, temperature: Option<&str>) {
        self.line("");
        let (name, left) = answer.map(yeast_answer).unwrap_or_default();
        let Some(name) = name else {
            self.missing(wanted("", YEAST.what, "[yeast]"));
            self.note(YEAST.example);
            self.note(FERMENTATION.example);
            self.leave_out(YEAST_AMOUNT, &left);
            let temperature = temperature.map(str::to_owned);
            self.leave_out(FERMENTATION, temperature.as_slice());
            return;
        };
        self.line("[yeast]");
        self.value(YEAST.key, &name);
        self.leave_out(YEAST_AMOUNT, &left);
        self.amount(FERMENTATION, (&TEMPERATURE, "°C"), temperature);
    }

    pub(crate) fn packaging(&mut self, answer: Option<&str>) {
        self.line("\n[carbonation]");
        let read = answer.map(PackagingAnswer::read).unwrap_or_default();
        let sugar = read.sugar.map(|it| it.id().to_owned());
        let bottle = read.bottle.map(|it| it.id().to_owned());
        for (it, said) in [(GAS, read.gas), (PRIMING, sugar), (BOTTLE, bottle)] {
            match said {
                Some(said) => self.value(it.key, &said),
                None => self.missing(it),
            }
        }
        let about = wanted(
            "",
            "bottles, sugar and gas",
            "bottle = \"crown\", priming = \"sucrose\", target = \"2.4 vol\", each on its line",
        );
        self.leave_out(about, &read.left);
    }

    pub(crate) fn hopes(&mut self, answer: Option<&str>) {
        self.line("");
        self.note("What you hope for: words of the wheel, 0 (none) to 9 (cannot be stronger).");
        self.line("[intent.words]");
        let hopes = answer.map(hope_answers).unwrap_or_default();
        if hopes.is_empty() {
            self.missing(HOPE);
        }
        let mut written = HashSet::new();
        for it in hopes {
            let word = quoted(&it.word);
            match it.strength.filter(|_| !it.word.is_empty()) {
                Some(strength) if written.insert(word.clone()) => self.line(&format!(
                    "{word} = {{ aroma = {strength}, flavour = {strength} }}"
                )),
                Some(_) => self.leave_out(HOPE, &[it.said]),
                None => self.unusable(STRENGTH, &it.said),
            }
        }
    }

    pub(crate) fn scales(&mut self, answer: Option<&str>) {
        self.line("\n[intent.scales]");
        let read = answer.map(ScaleAnswers::read).unwrap_or_default();
        for (_, line) in &read.lines {
            self.line(line);
        }
        for it in [BITTER, COLOUR] {
            if !read.has(it.key) {
                self.missing(it);
            }
        }
        let about = wanted(
            "",
            "bitterness and colour",
            "bitter = 5, or colour = \"25 EBC\"",
        );
        self.leave_out(about, &read.left);
    }
}
