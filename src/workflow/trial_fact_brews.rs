//! Recipes and logs put together from pieces such as `malt Pale malt 1000; mash 66`.

use crate::domain::BatchEntry;
use crate::domain::BatchEntryId;
use crate::domain::EntryKind;
use crate::domain::Moment;

/// A recipe of 5 litres put together from pieces.
pub(super) fn recipe(pieces: &str) -> String {
    let mut tables = vec![Vec::new(); 4];
    let (mut mash, mut gas, mut yeast) = ("66", "2.4", "name = \"Clean ale yeast\"".to_owned());
    let mut base = true;
    let of_recipe = |it: &&str| !it.starts_with("log ") && !it.starts_with("weeks ");
    for piece in pieces.split("; ").filter(of_recipe) {
        let (kind, rest) = piece.split_once(' ').unwrap_or((piece, ""));
        let (name, amount) = rest.rsplit_once(' ').unwrap_or((rest, ""));
        match kind {
            "mash" => mash = rest,
            "gas" => gas = rest,
            "" => {}
            "weak" => base = false,
            "malt" => {
                base &= name != "Pale malt";
                tables[0].push(format!(
                    "[[fermentable]]\nname = \"{name}\"\namount = \"{amount} g\"\n"
                ));
            }
            "sugar" => {
                tables[0].push(format!(
                    "[[sugar]]\nname = \"{name}\"\namount = \"{amount} g\"\n"
                ));
            }
            "hop" => tables[1].push(hop(rest)),
            "water" => tables[2].push(format!("[water]\n{name} = {amount}\n")),
            "other" => {
                tables[3].push(format!(
                    "[[other]]\nname = \"{name}\"\namount = \"{amount} g\"\nwhen = \"in the boil\"\n"
                ));
            }
            "yeast" => {
                let (name, at) = rest.split_once(" at ").unwrap();
                yeast = format!("name = \"{name}\"\ntemperature = \"{at} °C\"");
            }
            other => panic!("{other}"),
        }
    }
    let base = match (base, pieces.contains("weak")) {
        (_, true) => "[[fermentable]]\nname = \"Pale malt\"\namount = \"500 g\"\n",
        (true, _) => "[[fermentable]]\nname = \"Pale malt\"\namount = \"1000 g\"\n",
        _ => "",
    };
    let tables: Vec<String> = tables.iter().map(|it| it.concat()).collect();
    let [grist, hops, water, others] = <[String; 4]>::try_from(tables).unwrap();
    format!(
        "name = \"Fact\"\nversion = \"1\"\nvolume = \"5 L\"\n[mash]\ntemperature = \"{mash} °C\"\n{base}{grist}{hops}[yeast]\n{yeast}\n{water}{others}[carbonation]\ntarget = \"{gas} vol\"\n"
    )
}

fn hop(rest: &str) -> String {
    let parts: Vec<&str> = rest.split(' ').collect();
    let when = match parts[2..] {
        ["boil", minutes, ..] => format!("boil = \"{minutes} min\""),
        ["dry", days, ..] => format!("dry = \"{days} days\""),
        ["cools", from, to, minutes, ..] => {
            format!("whirlpool = \"{from} °C to {to} °C for {minutes} min\"")
        }
        ["stand", celsius, minutes, ..] => {
            format!("whirlpool = \"{celsius} °C for {minutes} min\"")
        }
        _ => panic!("{rest}"),
    };
    let age = if parts.last() == Some(&"old") {
        "age = \"3 years\"\nstored = \"shelf\"\n"
    } else {
        ""
    };
    format!(
        "[[hop]]\nname = \"{}\"\namount = \"{} g\"\n{when}\n{age}",
        parts[0], parts[1]
    )
}

pub(super) fn entry((id, value): (&str, &str)) -> BatchEntry {
    let kind = EntryKind::from_id(id).unwrap();
    BatchEntry {
        id: BatchEntryId::new(id),
        kind,
        value: kind.read(value).unwrap(),
        at: Moment::parse("2026-03-14T18:00:00Z").unwrap(),
    }
}
