//! The rules of each family, with the figures of a mixture put in. Low-sugar,
//! rich and whisked cakes, the sponge's ratio among them: from memory; the older
//! American sponge: Woman's Institute Library of Cookery, volume 4 (public
//! domain); the rest: common practice of the trade.

use super::{Family, Mixture, RuleTold, figure};
use crate::model::Role;

/// "About equal": no more than this share of the larger apart (chosen).
const ABOUT: f64 = 0.2;
/// A figure may be so many parts off a customary range and still be told as
/// customary (chosen): recipes are rounded to what can be weighed.
const SLACK: f64 = 2.0;
/// Share of fat in Cheddar (CoFID 2015, 12-313: 34.9 g in 100 g).
const FAT_OF_CHEESE: f64 = 0.349;

/// The rules of a family.
pub(super) fn of(family: Family, mixture: &Mixture) -> Vec<RuleTold> {
    let mut told = match family {
        Family::LowSugarCake => low_sugar(mixture),
        Family::RichCake => rich(mixture),
        Family::WhiskedSponge => whisked(mixture),
        Family::Melted => melted(mixture),
        Family::Muffin => muffin(mixture),
        Family::Scone => scone(mixture),
        Family::Shortbread => ratio(mixture, "3 : 2 : 1", (66.7, 8.0), (33.3, 8.0)),
        Family::Crumble => ratio(mixture, "2 : 1 : 1", (50.0, 8.0), (50.0, 12.0)),
        Family::Bread => bread(mixture),
    };
    if mixture.gluten_free() {
        let words = "flour made without gluten ingredients takes up more liquid than wheat flour: wetter mixtures are usual";
        told.push(RuleTold::note(words.to_owned()));
    }
    let cocoa = mixture.part_of(|name, _| name.contains("cocoa"));
    if cocoa > 0.0 {
        told.push(RuleTold::note(format!(
            "cocoa {}: it drinks {} to {} more of water",
            figure(cocoa),
            figure(0.75 * cocoa),
            figure(cocoa)
        )));
    }
    told
}

fn about(a: f64, b: f64) -> bool {
    (a - b).abs() <= ABOUT * a.max(b)
}

/// A part beside its customary range.
fn range(what: &str, part: f64, (low, high): (f64, f64), slack: f64) -> RuleTold {
    let (of, from, until) = (figure(part), figure(low), figure(high));
    let words = format!("{what} {of} to flour 100; {from} to {until} is usual");
    // As it is shown: 25.3 is told as 25.
    let is_in = (low..=high).contains(&part) || of == from || of == until;
    if is_in {
        RuleTold::usual(words)
    } else if part >= low - slack && part <= high + slack {
        let side = if part < low { "under" } else { "over" };
        RuleTold::note(format!(
            "{what} {of} to flour 100 is a little {side} the usual {from} to {until}, no more than \
             rounding to what can be weighed may come to"
        ))
    } else {
        RuleTold::unusual(words)
    }
}

/// As [`range`], but with flour that drinks more there is no such thing as too
/// much liquid.
fn liquid_range(mixture: &Mixture, range_of: (f64, f64)) -> RuleTold {
    let told = range("liquid", mixture.parts.liquid, range_of, SLACK);
    let more = mixture.parts.liquid > range_of.1;
    if mixture.gluten_free() && more { RuleTold::note(told.words) } else { told }
}

fn sugar_to_flour(mixture: &Mixture) -> RuleTold {
    let sugar = mixture.parts.sugar + mixture.parts.syrup;
    let figures = format!("sugar {} to flour 100", figure(sugar));
    if sugar <= 100.0 {
        RuleTold::usual(format!("{figures}: no more sugar than flour"))
    } else {
        RuleTold::unusual(format!(
            "{figures}: more sugar than flour; rich cakes like this need special fats"
        ))
    }
}

fn without_egg() -> RuleTold {
    RuleTold::note("no egg: raising agent and starch have to do its work".to_owned())
}

fn low_sugar(mixture: &Mixture) -> Vec<RuleTold> {
    let p = mixture.parts;
    let mut told = vec![sugar_to_flour(mixture)];
    if p.egg <= 0.0 {
        told.push(without_egg());
    } else {
        let figures = format!("egg {} to fat {}", figure(p.egg), figure(p.fat));
        told.push(if about(p.egg, p.fat) {
            RuleTold::usual(format!("{figures}: about as much egg as fat"))
        } else if p.egg < p.fat {
            RuleTold::unusual(format!("{figures}: less egg than fat; about as much is usual"))
        } else {
            RuleTold::unusual(format!("{figures}: more egg than fat; about as much is usual"))
        });
    }
    let wet = p.egg + p.liquid;
    let figures = format!("egg and liquid {} to flour 100", figure(wet));
    told.push(if about(wet, 100.0) {
        RuleTold::usual(format!("{figures}: about as much as flour"))
    } else if about(wet, p.sugar + p.syrup) {
        RuleTold::usual(format!("{figures}: about as much as sugar"))
    } else if wet > 100.0 && mixture.gluten_free() {
        RuleTold::note(format!("{figures}: wetter than with wheat flour"))
    } else {
        let than = if wet > 100.0 { "wetter" } else { "drier" };
        RuleTold::unusual(format!(
            "{figures}: {than} than usual; about as much as flour or sugar is"
        ))
    });
    told
}

fn rich(mixture: &Mixture) -> Vec<RuleTold> {
    let p = mixture.parts;
    let sugar = p.sugar + p.syrup;
    let egg = format!("egg {} to fat {}", figure(p.egg), figure(p.fat));
    let wet = p.egg + p.liquid;
    let liquid = format!("egg and liquid {} to sugar {}", figure(wet), figure(sugar));
    vec![
        sugar_to_flour(mixture),
        if p.egg > p.fat {
            RuleTold::usual(format!("{egg}: more egg than fat, as a rich cake wants"))
        } else {
            RuleTold::unusual(format!("{egg}: a rich cake wants more egg than fat"))
        },
        if wet >= sugar {
            RuleTold::usual(format!("{liquid}: at least as much, as a rich cake wants"))
        } else {
            RuleTold::unusual(format!("{liquid}: a rich cake wants at least as much"))
        },
    ]
}

fn whisked(mixture: &Mixture) -> Vec<RuleTold> {
    let p = mixture.parts;
    let figures = format!("egg {} and sugar {} to flour 100", figure(p.egg), figure(p.sugar));
    let mut told = vec![if about(p.egg, 200.0) && about(p.sugar, 100.0) {
        RuleTold::usual(format!("{figures}: 25 g each of sugar and flour to an egg"))
    } else if about(p.egg, p.sugar) && about(p.egg, 200.0) {
        RuleTold::usual(format!(
            "{figures}: as much sugar as egg and half as much flour, the older American sponge"
        ))
    } else {
        RuleTold::unusual(format!(
            "{figures}; 200 and 100 are usual, 200 and 200 in the older American sponge"
        ))
    }];
    if p.fat > 0.0 {
        let words = "a little melted fat keeps it moist and costs some of the air";
        told.push(RuleTold::note(format!("fat {}: {words}", figure(p.fat))));
    }
    told
}

fn melted(mixture: &Mixture) -> Vec<RuleTold> {
    let p = mixture.parts;
    let sweet = p.sugar + p.syrup;
    let figures = format!("sugar and syrup {} to flour 100", figure(sweet));
    let mut told = vec![
        range("fat", p.fat, (30.0, 50.0), SLACK),
        if sweet <= 100.0 + SLACK {
            RuleTold::usual(format!("{figures}; up to 100 is usual"))
        } else {
            RuleTold::unusual(format!("{figures}: more than the usual 100"))
        },
    ];
    if p.egg <= 0.0 {
        told.push(without_egg());
    } else if p.egg < p.fat {
        let words = "less egg than fat is normal for this method";
        told.push(RuleTold::usual(format!(
            "egg {} to fat {}: {words}",
            figure(p.egg),
            figure(p.fat)
        )));
    }
    told
}

fn muffin(mixture: &Mixture) -> Vec<RuleTold> {
    let p = mixture.parts;
    let mut told = vec![
        // 2 flour : 2 liquid : 1 egg : 1 fat, looser in practice.
        liquid_range(mixture, (75.0, 115.0)),
        if p.egg > 0.0 { range("egg", p.egg, (20.0, 60.0), SLACK) } else { without_egg() },
        range("fat", p.fat, (25.0, 60.0), SLACK),
    ];
    if p.sugar + p.syrup > 0.0 {
        told.push(sugar_to_flour(mixture));
    }
    told.extend(cheese(mixture));
    told
}

fn scone(mixture: &Mixture) -> Vec<RuleTold> {
    let mut told = vec![
        range("fat", mixture.parts.fat, (20.0, 25.0), SLACK),
        liquid_range(mixture, (60.0, 68.0)),
    ];
    told.extend(cheese(mixture));
    told
}

/// Fat that comes with cheese.
fn cheese(mixture: &Mixture) -> Option<RuleTold> {
    let is_cheese = |name: &str| name.contains("cheddar") || name.contains("cheese");
    let cheese = mixture.part_of(|name, role| role == Role::Other && is_cheese(name));
    let more = FAT_OF_CHEESE * cheese;
    let words = format!("cheese {} brings about {more:.0} of fat besides", figure(cheese));
    (cheese > 0.0).then(|| RuleTold::note(words))
}

/// Flour, fat and sugar as 3 : 2 : 1 or the like, each so many parts and how
/// far off it may be (chosen).
fn ratio(
    mixture: &Mixture,
    ratio: &str,
    (fat, fat_off): (f64, f64),
    (sugar, sugar_off): (f64, f64),
) -> Vec<RuleTold> {
    let p = mixture.parts;
    let figures = format!("fat {} and sugar {} to flour 100", figure(p.fat), figure(p.sugar));
    let near = (p.fat - fat).abs() <= fat_off && (p.sugar - sugar).abs() <= sugar_off;
    let exact = (p.fat - fat).abs() < 0.5 && (p.sugar - sugar).abs() < 0.5;
    let told = if exact {
        RuleTold::usual(format!("{figures}: exactly {ratio}"))
    } else if near {
        RuleTold::usual(format!("{figures}: about {ratio}"))
    } else {
        RuleTold::unusual(format!("{figures}; {ratio} of flour, fat and sugar is usual"))
    };
    let wet = p.egg + p.liquid;
    let words = format!("egg and liquid {}: usually there is none", figure(wet));
    let mut all = vec![told];
    all.extend((wet > 0.0).then(|| RuleTold::unusual(words)));
    all
}

fn bread(mixture: &Mixture) -> Vec<RuleTold> {
    let salt = mixture.part_of(|name, _| name == "salt" || name.ends_with(" salt"));
    let yeast = |fresh: bool| {
        mixture.part_of(|name, role| {
            role == Role::Raising && name.contains("yeast") && name.contains("fresh") == fresh
        })
    };
    let (dried, fresh) = (yeast(false), yeast(true));
    let mut told = vec![liquid_range(mixture, (60.0, 65.0)), range("salt", salt, (1.5, 2.0), 0.3)];
    if dried > 0.0 {
        told.push(range("dried yeast", dried, (1.0, 2.0), 0.3));
    }
    if fresh > 0.0 {
        told.push(range("fresh yeast", fresh, (2.0, 4.0), 0.6));
    }
    told
}
