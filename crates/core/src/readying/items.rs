//! The proposals in a maker's words.

use super::answers::Answers;
use super::kinds::Role;
use super::plan::{AS_PROPOSED, GIRTHS_ONLY, Plan, TAPES, fold_role, frame, is_fold, lines_key};
use super::read::Read;
use super::reading::{is_settled, piece_key};
use super::sewing::{Run, Sewn};
use super::wearer;
use super::what::{Cut, What, way_key};
use super::{NONE, Proposed, ProposedKind, ProposedPlace, Way};
use crate::garment::{Garment, Passing};
use crate::measure::Level;
use crate::piece::Frame;
use crate::tape::TapeKind;

/// Ways that are offered for one piece at most, none included.
const WAYS: usize = 7;

/// Every proposal, in the order they are best answered.
pub(super) fn items(garment: &Garment, plan: &Plan, answers: &Answers) -> Vec<Proposed> {
    let mut items = pieces(garment, plan, answers);
    items.extend(seams(garment, plan));
    items.extend(made_for(plan));
    items.extend(lines(garment, plan));
    items.extend(tapes(garment, plan));
    items.extend(openings(garment, plan));
    for item in &mut items {
        settle(item, answers);
    }
    items
}

/// Ends the ways with the one that takes nothing, and puts first what was answered.
fn settle(item: &mut Proposed, answers: &Answers) {
    item.certainty = item.certainty.clamp(0.0, 1.0);
    item.ways.push(Way {
        key: NONE.to_owned(),
        words: "leave it as it is".to_owned(),
        certainty: 0.0,
    });
    if answers.is_refused(&item.key) {
        item.ways.sort_by_key(|way| way.key != NONE);
        item.words = format!("{}: left as it is", item.key);
        item.certainty = 1.0;
    } else if let Some(chosen) = answers.way(&item.key) {
        item.ways.sort_by_key(|way| way.key != chosen);
    }
}

fn way(key: impl Into<String>, words: impl Into<String>, certainty: f64) -> Way {
    Way {
        key: key.into(),
        words: words.into(),
        certainty: certainty.clamp(0.0, 1.0),
    }
}

fn is_are(what: What, cut: Cut) -> String {
    let name = what.name();
    let article = match what {
        What::Front
        | What::Back
        | What::FrontYoke
        | What::BackYoke
        | What::FrontBody
        | What::BackBody => "the",
        What::SkirtFront | What::SkirtBack | What::FrontLeg | What::BackLeg => "the",
        _ => "a",
    };
    format!("{article} {name}, {}", cut.words())
}

fn pieces(garment: &Garment, plan: &Plan, answers: &Answers) -> Vec<Proposed> {
    let mut items = Vec::new();
    for (i, piece) in garment.pieces.iter().enumerate() {
        let others = plan.reading.others.get(i).map_or(&[][..], Vec::as_slice);
        if is_settled(garment, piece) || (plan.read(i).is_none() && others.is_empty()) {
            continue;
        }
        let key = piece_key(&piece.name);
        let Some(read) = plan.read(i) else {
            // Refused, or too doubtful: its ways are offered, nothing is proposed.
            if answers.is_refused(&key) {
                items.push(Proposed {
                    kind: ProposedKind::Piece,
                    places: vec![whole(&piece.name)],
                    words: String::new(),
                    certainty: 1.0,
                    rests_on: "as answered".to_owned(),
                    ways: ways_of(others),
                    key,
                });
            }
            continue;
        };
        let mut ways = vec![way(
            way_key(read.what, read.cut),
            is_are(read.what, read.cut),
            read.certainty,
        )];
        ways.extend(ways_of(others));
        ways.truncate(WAYS - 1);
        items.push(Proposed {
            key,
            kind: ProposedKind::Piece,
            places: vec![ProposedPlace {
                piece: piece.name.clone(),
                edges: fold_role(read)
                    .filter(|role| is_fold(read, *role))
                    .map_or(Vec::new(), |role| edges_of(garment, i, read, role)),
            }],
            words: format!(
                "{} is {}{}",
                piece.name,
                is_are(read.what, read.cut),
                sewn_words(plan, i, read)
            ),
            certainty: read.certainty,
            rests_on: read.rests_on.join("; "),
            ways,
        });
    }
    items
}

fn ways_of(others: &[(What, Cut, f64)]) -> Vec<Way> {
    others
        .iter()
        .take(WAYS - 2)
        .map(|(what, cut, certainty)| way(way_key(*what, *cut), is_are(*what, *cut), *certainty))
        .collect()
}

/// What a band is sewn to, in words.
fn sewn_words(plan: &Plan, piece: usize, read: &Read) -> String {
    if !plan.seams.iter().any(|seam| seam.of_band == Some(piece)) {
        return String::new();
    }
    match read.what {
        What::Collar => ", sewn to the neckline".to_owned(),
        What::Waistband => ", sewn to the waist".to_owned(),
        What::Cuff => ", sewn to the hem of the sleeve, its ends to each other".to_owned(),
        _ => String::new(),
    }
}

fn whole(piece: &str) -> ProposedPlace {
    ProposedPlace {
        piece: piece.to_owned(),
        edges: Vec::new(),
    }
}

fn edges_of(garment: &Garment, piece: usize, read: &Read, role: Role) -> Vec<String> {
    let Some(piece) = garment.pieces.get(piece) else {
        return Vec::new();
    };
    read.bits(role)
        .iter()
        .filter_map(|bit| Some(piece.outline.edges().get(bit.edge)?.name.clone()))
        .collect()
}

/// Where runs lie, piece by piece.
fn places(garment: &Garment, runs: &[&Run]) -> Vec<ProposedPlace> {
    let mut found: Vec<ProposedPlace> = Vec::new();
    for (piece, bit) in runs.iter().flat_map(|run| run.iter()) {
        let Some(piece) = garment.pieces.get(*piece) else {
            continue;
        };
        let Some(edge) = piece.outline.edges().get(bit.edge) else {
            continue;
        };
        match found.iter_mut().find(|place| place.piece == piece.name) {
            Some(place) if place.edges.contains(&edge.name) => {}
            Some(place) => place.edges.push(edge.name.clone()),
            None => found.push(ProposedPlace {
                piece: piece.name.clone(),
                edges: vec![edge.name.clone()],
            }),
        }
    }
    found
}

/// What pieces are called in words: what they are read as.
fn names(plan: &Plan, run: &Run) -> String {
    let mut names: Vec<&str> = Vec::new();
    for (piece, _) in run {
        let name = plan.read(*piece).map_or("piece", |read| read.what.name());
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names.join(" and ")
}

fn seam_words(plan: &Plan, seam: &Sewn) -> String {
    if seam.is_centre {
        return format!("{}: the right half to the left half", seam.name);
    }
    let (a, b) = (names(plan, &seam.a), names(plan, &seam.b));
    if a == b {
        format!(
            "{}: the two edges of the {a} to each other, both sides of the body",
            seam.name
        )
    } else {
        format!("{}: {a} to {b}, both sides of the body", seam.name)
    }
}

fn seams(garment: &Garment, plan: &Plan) -> Vec<Proposed> {
    let mut items: Vec<Proposed> = Vec::new();
    for seam in plan.seams.iter().filter(|seam| seam.of_band.is_none()) {
        let own = places(garment, &[&seam.a, &seam.b]);
        if let Some(item) = items.iter_mut().find(|item| item.key == seam.key) {
            item.words = format!("{}; {}", item.words, seam_words(plan, seam));
            item.certainty = item.certainty.min(seam.certainty);
            item.places.extend(own);
            continue;
        }
        let mut ways = vec![way(
            seam.way.clone(),
            seam_words(plan, seam),
            seam.certainty,
        )];
        let others = plan
            .other_seams
            .get(&seam.key)
            .map_or(&[][..], Vec::as_slice);
        ways.extend(others.iter().map(|other| {
            let words = if other.way == AS_PROPOSED {
                seam_words(plan, other)
            } else {
                format!("{} {}", names(plan, &other.a), other.way)
            };
            way(other.way.clone(), words, other.certainty)
        }));
        items.push(Proposed {
            key: seam.key.clone(),
            kind: ProposedKind::Seam,
            places: own,
            words: seam_words(plan, seam),
            certainty: seam.certainty,
            rests_on: seam.rests_on.clone(),
            ways,
        });
    }
    items
}

fn made_for(plan: &Plan) -> Option<Proposed> {
    let best = plan.wearers.first()?;
    let name = |wearer: &wearer::Wearer| {
        if wearer.key == wearer::OWN {
            "a body of the garment's own girths, less the ease of the handbooks".to_owned()
        } else {
            wearer.body.name.clone()
        }
    };
    Some(Proposed {
        key: wearer::KEY.to_owned(),
        kind: ProposedKind::MadeFor,
        places: Vec::new(),
        words: format!("made for {}", name(best)),
        certainty: best.certainty,
        rests_on: best.rests_on.clone(),
        ways: plan
            .wearers
            .iter()
            .map(|wearer| way(wearer.key.clone(), name(wearer), wearer.certainty))
            .collect(),
    })
}

fn lines(garment: &Garment, plan: &Plan) -> Vec<Proposed> {
    plan.frames()
        .into_iter()
        .map(|frame| lines_of(garment, plan, frame))
        .collect()
}

fn lines_of(garment: &Garment, plan: &Plan, of: Frame) -> Proposed {
    let own = || {
        plan.levels
            .iter()
            .filter(|line| plan.read(line.piece).and_then(frame) == Some(of))
    };
    let mut levels: Vec<Level> = own().map(|line| line.level).collect();
    levels.sort();
    levels.dedup();
    let mut pieces: Vec<usize> = own().map(|line| line.piece).collect();
    pieces.dedup();
    let certainty = pieces
        .iter()
        .filter_map(|piece| plan.read(*piece).map(|read| read.certainty))
        .fold(1.0, f64::min);
    let labels: Vec<String> = levels
        .iter()
        .map(|level| level.label().to_lowercase())
        .collect();
    let on: Vec<&str> = pieces
        .iter()
        .filter_map(|i| plan.read(*i).map(|read| read.what.name()))
        .collect();
    let words = format!(
        "lines of the {}: {} on {}",
        of.label(),
        labels.join(", "),
        on.join(", ")
    );
    Proposed {
        key: lines_key(of),
        kind: ProposedKind::BodyLines,
        places: pieces
            .iter()
            .filter_map(|i| Some(whole(&garment.pieces.get(*i)?.name)))
            .collect(),
        ways: vec![way(AS_PROPOSED, words.clone(), 0.9 * certainty)],
        words,
        certainty: 0.9 * certainty,
        rests_on: format!(
            "corners of the pieces, and the proportions of {}",
            plan.body.name
        ),
    }
}

fn tapes(garment: &Garment, plan: &Plan) -> Option<Proposed> {
    if plan.tapes.is_empty() {
        return None;
    }
    let of = |kind: TapeKind| -> Vec<&str> {
        plan.tapes
            .iter()
            .filter(|tape| tape.kind == kind)
            .map(|tape| tape.name.as_str())
            .collect()
    };
    let (girths, lengths) = (of(TapeKind::Girth), of(TapeKind::Length));
    let girths = format!("tapes round: {}", girths.join(", "));
    let words = if lengths.is_empty() {
        girths.clone()
    } else {
        format!("{girths}; tapes along: {}", lengths.join(", "))
    };
    let mut pieces: Vec<usize> = plan
        .tapes
        .iter()
        .flat_map(|tape| tape.parts.iter().map(|(piece, _)| *piece))
        .collect();
    pieces.sort_unstable();
    pieces.dedup();
    Some(Proposed {
        key: TAPES.to_owned(),
        kind: ProposedKind::Tapes,
        places: pieces
            .iter()
            .filter_map(|i| Some(whole(&garment.pieces.get(*i)?.name)))
            .collect(),
        ways: vec![
            way(AS_PROPOSED, words.clone(), 0.75),
            way(GIRTHS_ONLY, girths, 0.5),
        ],
        words,
        certainty: 0.75,
        rests_on: "body lines and edges that have a measure of the body of their own".to_owned(),
    })
}

fn openings(garment: &Garment, plan: &Plan) -> Vec<Proposed> {
    plan.openings
        .iter()
        .map(|opening| {
            let passes = match opening.passes {
                Passing::Head => "the head",
                Passing::Hand => "the hand",
                Passing::Foot => "the foot",
                Passing::Trunk => "shoulders or hips",
            };
            let words = if opening.slit.is_empty() {
                format!("{}: lets {passes} through as it is", opening.name)
            } else {
                format!("it opens at the {}, to let {passes} through", opening.name)
            };
            Proposed {
                key: opening.key.clone(),
                kind: ProposedKind::Opening,
                places: places(garment, &[&opening.hole, &opening.slit]),
                ways: vec![way(AS_PROPOSED, words.clone(), opening.certainty)],
                words,
                certainty: opening.certainty,
                rests_on: opening.rests_on.clone(),
            }
        })
        .collect()
}
