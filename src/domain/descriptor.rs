//! One word of the wheel with all that helps to learn it.

use crate::domain::Cause;
use crate::domain::Compound;
use crate::domain::DescriptorId;
use crate::domain::ShelfId;
use crate::domain::Stage;
use crate::domain::Standing;
use crate::domain::choice::choices;

choices! {
    /// What can hurt a person with an allergy; the closed list of food labelling.
    Allergen ("an allergen") {
        /// Wheat, barley, rye, oats.
        Gluten = "gluten", "gluten";
        /// Milk and lactose.
        Milk = "milk", "milk";
        /// Egg.
        Egg = "egg", "egg";
        /// Fish, isinglass included.
        Fish = "fish", "fish";
        /// Tree nuts.
        Nuts = "nuts", "nuts";
        /// Peanut.
        Peanut = "peanut", "peanut";
        /// Soy.
        Soy = "soy", "soy";
        /// Sesame.
        Sesame = "sesame", "sesame";
        /// Mustard.
        Mustard = "mustard", "mustard";
        /// Celery.
        Celery = "celery", "celery";
        /// Sulphite.
        Sulphite = "sulphite", "sulphite";
        /// Lupin.
        Lupin = "lupin", "lupin";
        /// Crustaceans.
        Crustacean = "crustacean", "crustaceans";
        /// Molluscs.
        Mollusc = "mollusc", "molluscs";
    }

    /// What else to take care of with a jar.
    Caution ("a caution") {
        /// Counts as alcohol.
        Alcohol = "alcohol", "holds alcohol: count it";
        /// Caffeine.
        Caffeine = "caffeine", "caffeine";
        /// Hot: burns.
        Burn = "burn", "hot: let it cool fully";
        /// Fire.
        Fire = "fire", "fire: away from anything that burns";
        /// Asthma.
        Asthma = "asthma", "not near anyone with asthma";
        /// Pregnancy.
        Pregnancy = "pregnancy", "leave out in pregnancy";
        /// Interacts with medicines.
        Medicines = "medicines", "can act on medicines: sniff only if you take any";
        /// Skin.
        Skin = "skin", "can irritate the skin";
        /// Dust.
        Dust = "dust", "dust and pollen: sniff from a distance";
        /// Much salt.
        Salt = "salt", "salty: a few drops only";
        /// Blood pressure.
        BloodPressure = "blood-pressure", "can raise blood pressure";
        /// Not for babies.
        UnderOne = "under-one", "never for children under one year";
        /// Eyes.
        Eyes = "eyes", "keep away from the eyes";
        /// Strong smell.
        StrongSmell = "strong-smell", "strong smell: brief sniff, fresh air; not with migraine";
        /// Glass.
        Glass = "glass", "check the glass for chips";
        /// Choking.
        Choking = "choking", "not for small children: can choke";
    }

    /// How a jar may be met.
    JarUse ("how a jar is used") {
        /// Sniff and taste.
        Taste = "taste", "sniff and taste";
        /// A food; sniffing is enough.
        Sniff = "sniff", "sniff";
        /// Never in the mouth.
        SniffOnly = "sniff-only", "sniff only, never in the mouth";
    }
}

/// An everyday sample that shows a word.
#[derive(Debug, Clone, PartialEq)]
pub struct Jar {
    /// What to fetch.
    pub item: String,
    /// How to prepare it, with the dose.
    pub how: String,
    /// Sniff, taste, or sniff only.
    pub met_by: JarUse,
    /// How long it keeps.
    pub keeps: String,
    /// What it may hold for people with an allergy.
    pub allergens: Vec<Allergen>,
    /// What else to take care of.
    pub cautions: Vec<Caution>,
}

/// How a word can be learnt: from a jar, or without one.
#[derive(Debug, Clone, PartialEq)]
pub enum Reference {
    /// There is a jar.
    Jar(Jar),
    /// There is no safe jar.
    NoJar {
        /// Why not.
        why: String,
        /// What to do instead.
        instead: String,
    },
}

/// Another word that is easily taken for this one.
#[derive(Debug, Clone, PartialEq)]
pub struct LookAlike {
    /// The other word.
    pub id: DescriptorId,
    /// How to tell the two apart.
    pub tell: String,
}

/// One entry of the wheel.
#[derive(Debug, Clone, PartialEq)]
pub struct Descriptor {
    /// Its permanent id.
    pub id: DescriptorId,
    /// The shelf it stands on.
    pub shelf: ShelfId,
    /// The word on screen.
    pub word: String,
    /// What people also call it.
    pub synonyms: Vec<String>,
    /// How it is often misspelt.
    pub misspellings: Vec<String>,
    /// One sentence that says what it is like, without the word.
    pub definition: String,
    /// The stages where it is usually met.
    pub stages: Vec<Stage>,
    /// Words easily taken for it.
    pub look_alikes: Vec<LookAlike>,
    /// How to learn it.
    pub reference: Reference,
    /// What smells of it, the main one first.
    pub compounds: Vec<Compound>,
    /// Where it may come from, the usual cause first.
    pub causes: Vec<Cause>,
    /// In which beers it is welcome.
    pub standing: Standing,
}
