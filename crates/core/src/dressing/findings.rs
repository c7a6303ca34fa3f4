//! What the maker should know about dressing: what does not pass, what is missing, closures, ties, sleeves, the hem.

use super::closing::{Closing, SMALLEST_WORKED_BUTTON};
use super::mended::edit_of;
use super::passage::{HeadDress, Need, Passage, Way};
use super::{ArmRoom, Dressing, HemRoom, Missing, Tied, dressing};
use crate::adapt::Adapted;
use crate::closure::Closure;
use crate::edit::{Edit, FittingEdit};
use crate::finding::{Finding, Gravity, Place};
use crate::fullness::Filled;
use crate::garment::TapeError;

/// Everything about dressing that one fitting by itself says; sleeves over sleeves come with [`narrow_sleeves`].
pub fn findings(filled: &Filled) -> Vec<Finding> {
    found(&filled.adapted, &dressing(filled, &[]))
}

/// What the maker should know about a garment whose dressing was looked at.
pub fn found(adapted: &Adapted, dressing: &Dressing) -> Vec<Finding> {
    let mut list = passing(adapted, dressing);
    list.extend(
        dressing
            .unmeasured
            .iter()
            .map(|(name, why)| cannot_measure(name, why)),
    );
    let missing = dressing.missing.iter().filter(|missing| !missing.passes());
    list.extend(missing.map(|missing| not_named(adapted, missing)));
    for passage in &dressing.passages {
        if let Some(closing) = &passage.closing {
            list.extend(closed(adapted, passage, closing));
        }
    }
    list.extend(
        dressing
            .tied
            .iter()
            .filter_map(|tied| too_short(adapted, tied)),
    );
    let tied = dressing.tied.iter();
    list.extend(tied.filter_map(|tied| too_long(adapted, tied)));
    let hems = dressing.hem.iter().filter(|hem| hem.drags());
    list.extend(hems.map(|hem| drags(adapted, hem)));
    list
}

/// Sleeves too narrow for what is worn under them. Apart from [`found`], because outfits are known to a project only.
pub fn narrow_sleeves(dressing: &Dressing) -> Vec<Finding> {
    let arms = dressing.arms.iter();
    arms.filter(|room| room.is_narrow()).map(narrow).collect()
}

fn finding(gravity: Gravity, place: Place, what: String, advice: String) -> Finding {
    crate::check::finding(gravity, place, what, advice, None)
}

fn edit(adapted: &Adapted, change: FittingEdit) -> Edit {
    Edit::Fitting {
        fitting: adapted.fitting.name.clone(),
        change,
    }
}

/// What does not pass in the usual way; worst when there is no other way either.
fn passing(adapted: &Adapted, dressing: &Dressing) -> Vec<Finding> {
    let Some(usual) = dressing.ways.first().copied() else {
        return Vec::new();
    };
    let best = dressing.best();
    let mut list = Vec::new();
    for passage in &dressing.passages {
        let tight = passage.tightest(usual, HeadDress::Wig);
        if let Some(need) = tight.filter(|need| !need.passes()) {
            list.push(too_small(adapted, passage, need, usual, best));
        }
    }
    list
}

fn too_small(
    adapted: &Adapted,
    passage: &Passage,
    need: &Need,
    usual: Way,
    best: Option<(Way, HeadDress)>,
) -> Finding {
    let gives = if need.give.0 > 0.0 {
        format!(" (it gives {:.1} mm)", need.give.0)
    } else {
        String::new()
    };
    let other = match best {
        Some((way, HeadDress::Wig)) if way != usual => format!(" It goes on {}.", way.words()),
        Some((way, HeadDress::Bare)) if way == usual => {
            " Without its wig the head passes.".to_owned()
        }
        Some((way, HeadDress::Bare)) => {
            format!(" It goes on {}, without the wig.", way.words())
        }
        _ => String::new(),
    };
    let gravity = match best {
        None => Gravity::Unusable,
        Some((_, HeadDress::Bare)) => Gravity::Care,
        Some((_, HeadDress::Wig)) => Gravity::Note,
    };
    let mut found = finding(
        gravity,
        Place::part(&passage.name),
        format!(
            "it opens to {:.1} mm, but {} needs {:.1} mm{gives}.{other}",
            passage.open.0,
            need.part.words(),
            need.girth.0
        ),
        advice(passage, need),
    );
    found.remedy = passage
        .longer
        .clone()
        .map(|step| edit(adapted, FittingEdit::AddAlteration(step)));
    found
}

fn advice(passage: &Passage, need: &Need) -> String {
    let (needed, wider) = (need.slit.0, -need.margin.0);
    if let Some(Closing {
        chosen: Some(Closure::Elastic { .. }),
        ..
    }) = passage.closing
    {
        return format!("Take elastic, or cloth, that gives {wider:.1} mm more.");
    }
    if passage.slit.0 > 0.0 {
        format!(
            "Make the slit {needed:.1} mm long instead of {:.1} mm, or the hole {wider:.1} mm wider.",
            passage.slit.0
        )
    } else {
        format!("Open it by a slit of {needed:.1} mm, or make the hole {wider:.1} mm wider.")
    }
}

fn cannot_measure(name: &str, why: &TapeError) -> Finding {
    finding(
        Gravity::Care,
        Place::part(name),
        format!("the opening cannot be measured: {why}."),
        "Name the edges of the opening again; until then nobody knows whether it lets the body in."
            .to_owned(),
    )
}

fn not_named(adapted: &Adapted, missing: &Missing) -> Finding {
    let edges: Vec<String> = missing
        .opening
        .hole
        .iter()
        .map(ToString::to_string)
        .collect();
    let place = missing
        .opening
        .hole
        .first()
        .map_or_else(Place::default, |at| Place::edge(&at.piece, &at.edge));
    let what = format!(
        "the {} hole opens to {:.1} mm, but {} needs {:.1} mm, and the garment names no opening there.",
        missing.opening.name,
        missing.size.open().0,
        missing.part.words(),
        missing.girth.0
    );
    let advice = format!(
        "Name an opening along {} and give it a slit of {:.1} mm.",
        edges.join("; "),
        missing.slit.0
    );
    let mut found = finding(Gravity::Unusable, place, what, advice);
    found.remedy = missing.can_be_named.then(|| Edit::PutOpening {
        garment: adapted.garment.name.clone(),
        opening: missing.opening.clone(),
    });
    found
}

fn closed(adapted: &Adapted, passage: &Passage, closing: &Closing) -> Vec<Finding> {
    let set = |closure| {
        edit(
            adapted,
            FittingEdit::SetClosure(passage.name.clone(), Some(closure)),
        )
    };
    let place = || Place::part(&passage.name);
    let mut list = Vec::new();
    if let Some(Closure::Buttons { diameter }) = closing.chosen
        && diameter.0 < SMALLEST_WORKED_BUTTON.0
    {
        let mut found = finding(
            Gravity::Care,
            place(),
            format!(
                "holes for buttons of {:.1} mm are too small to work; {:.1} mm is about the least (common practice).",
                diameter.0, SMALLEST_WORKED_BUTTON.0
            ),
            "Sew the buttons over snaps.".to_owned(),
        );
        found.remedy = Some(set(Closure::ButtonsOverSnaps { diameter }));
        list.push(found);
    }
    if let Some((chosen, short)) = closing.chosen.zip(closing.short()) {
        let there = if closing.from.is_empty() {
            "the sides meet edge to edge".to_owned()
        } else {
            format!("the {} gives {:.1} mm", closing.from, closing.overlap.0)
        };
        let other = closing.suited.iter().find(|suited| suited.fits);
        let mut found = finding(
            Gravity::Care,
            place(),
            format!(
                "closed by {} it needs an overlap of {:.1} mm, but {there}: {:.1} mm short.",
                chosen.noun(),
                chosen.overlap().0,
                short.0
            ),
            other.map_or_else(
                || "Let one side lap further over the other.".to_owned(),
                |other| {
                    format!(
                        "Let one side lap further over the other, or take {}.",
                        other.closure.noun()
                    )
                },
            ),
        );
        found.remedy = other.map(|other| set(other.closure));
        list.push(found);
    }
    list.extend(elastic(adapted, passage, closing));
    list
}

/// Elastic that does not hold, or gives less than it should.
fn elastic(adapted: &Adapted, passage: &Passage, closing: &Closing) -> Option<Finding> {
    let Some(Closure::Elastic { relaxed, stretched }) = closing.chosen else {
        return None;
    };
    let place = Place::part(&passage.name);
    if stretched.0 < relaxed.0 {
        return Some(finding(
            Gravity::Care,
            place,
            format!(
                "stretched to {:.1} mm the elastic is shorter than the {:.1} mm it has at rest.",
                stretched.0, relaxed.0
            ),
            "Measure it again: at rest, and pulled out as far as it goes.".to_owned(),
        ));
    }
    let measure = super::slit::girth_of(passage.passes);
    let body = adapted.fitting.body.mm(measure);
    (relaxed.0 >= body.0).then(|| {
        finding(
            Gravity::Care,
            place,
            format!(
                "elastic of {:.1} mm does not hold: the {} is {:.1} mm.",
                relaxed.0,
                measure.label().to_lowercase(),
                body.0
            ),
            format!("Cut it shorter than {:.1} mm, sewn into a ring.", body.0),
        )
    })
}

fn too_short(adapted: &Adapted, tied: &Tied) -> Option<Finding> {
    let (short, way) = tied.short().zip(tied.ways.first())?;
    let mut found = finding(
        Gravity::Care,
        Place::piece(&tied.piece),
        format!(
            "at {:.1} mm it is {:.1} mm too short to go round {} of {:.1} mm, {}.",
            tied.length.0,
            short.0,
            tied.round.words(),
            tied.girth.0,
            way.words
        ),
        lengths(tied),
    );
    found.remedy = edit_of(adapted, &tied.mended);
    Some(found)
}

fn lengths(tied: &Tied) -> String {
    let ways: Vec<String> = tied
        .ways
        .iter()
        .map(|way| format!("{}: {:.1} mm", way.words, way.length.0))
        .collect();
    format!(
        "Lengths that work: {}. At {:.1} mm its ends reach {}.",
        ways.join("; "),
        tied.most.0,
        tied.down_to
    )
}

fn too_long(adapted: &Adapted, tied: &Tied) -> Option<Finding> {
    let long = tied.long()?;
    let mut found = finding(
        Gravity::Note,
        Place::piece(&tied.piece),
        format!(
            "at {:.1} mm its ends hang {:.1} mm lower than {}.",
            tied.length.0,
            long.0
                / if tied.kind == super::TieKind::Ties {
                    1.0
                } else {
                    2.0
                },
            tied.down_to
        ),
        lengths(tied),
    );
    found.remedy = edit_of(adapted, &tied.mended);
    Some(found)
}

fn narrow(room: &ArmRoom) -> Finding {
    let under = if room.under.is_empty() {
        "nothing under it".to_owned()
    } else {
        room.under.join(", ")
    };
    let mut found = finding(
        Gravity::Care,
        room.place.clone(),
        format!(
            "the sleeve measures {:.1} mm; the arm of {:.1} mm with {under} takes {:.1} mm and the sleeve's own cloth {:.1} mm: {:.1} mm too narrow.",
            room.sleeve.0, room.arm.0, room.dressed.0, room.own.0, -room.margin.0
        ),
        format!(
            "Make the sleeve {:.1} mm wider there, or wear a thinner or less gathered one under it.",
            -room.margin.0
        ),
    );
    found.remedy.clone_from(&room.wider);
    found
}

fn drags(adapted: &Adapted, hem: &HemRoom) -> Finding {
    let other = if hem.wears_shoes {
        String::new()
    } else if hem.in_shoes.0 >= 0.0 {
        format!(
            " In shoes of {:.1} mm it clears the floor by {:.1} mm.",
            hem.shoes.0, hem.in_shoes.0
        )
    } else {
        format!(
            " In shoes of {:.1} mm it still drags {:.1} mm.",
            hem.shoes.0, -hem.in_shoes.0
        )
    };
    let worn = if hem.wears_shoes {
        "in shoes"
    } else {
        "barefoot"
    };
    let mut found = finding(
        Gravity::Care,
        Place::piece(&hem.piece),
        format!(
            "{worn} its hem lies {:.1} mm on the floor.{other}",
            -hem.worn().0
        ),
        format!(
            "Shorten it by {:.1} mm, or take a deeper hem.",
            -hem.worn().0
        ),
    );
    found.remedy = edit_of(adapted, &hem.shorter);
    found
}
