//! Hand work on the demo garments: a hundred random sequences of two hundred changes, undone all the way.
//!
//! Changes go through both doors: made on the garment, and kept as steps of a fitting. Whatever is asked, nothing panics;
//! what is taken leaves every outline closed and free of crossings, or a finding says so; and every project that was
//! ever reached is still there, byte for byte, when the changes are undone.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod chance;
mod kinds;
mod maker;

use std::collections::BTreeMap;
use std::sync::Arc;

use petitoile_core::adapt::adapt_garment;
use petitoile_core::alteration::{
    Alteration, Axis, DartChange, HingeEnd, MarkChange, PiecesChange, PointRef, SeamChange,
    ShapeChange, Spreading, TrueTo, replay,
};
use petitoile_core::body::{Body, BodyKind, Measured};
use petitoile_core::check::check;
use petitoile_core::drafts::wardrobe::{
    Dolls, harbour_jacket_project, net_menders_smock_project, sunday_skirts_project,
};
use petitoile_core::edge::{EdgeRef, Finish, OutlinePoint};
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::finish::finish;
use petitoile_core::fullness::{Fullness, FullnessOp, fill};
use petitoile_core::garment::Garment;
use petitoile_core::geometry::crossing::self_crossings;
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::geometry::simple::crosses_itself;
use petitoile_core::kurbo::{CubicBez, Point, Vec2};
use petitoile_core::measure::{Level, Measure};
use petitoile_core::notch::{Notch, NotchKind};
use petitoile_core::piece::{
    BodyLine, DartPress, Face, Follow, FollowRule, Frame, Mark, MarkKind, Piece, Placement,
};
use petitoile_core::project::Project;
use petitoile_core::seams::{Relation, SeamKind};
use petitoile_core::units::{Degrees, LengthUnit, Mm};

use chance::Chance;
use kinds::{KINDS, Taken, alteration_of, kind_of};
use maker::Maker;

const SEQUENCES: u64 = 100;
const CHANGES: usize = 200;
/// A cut along a bent line, counted beside all cuts.
const CURVED_CUT: &str = "Pieces/Cut, curved";
/// After so many of them a fitting is adapted and finished too.
const WHOLE_WAYS: u64 = 6;

fn body(name: &str, kind: BodyKind, figures: &[(Measure, f64)]) -> Arc<Body> {
    let body = Body::new(name, kind);
    Arc::new(figures.iter().fold(body, |body, (measure, value)| {
        body.with(*measure, Measured::own_tape(Mm(*value)))
    }))
}

fn projects() -> Vec<Project> {
    let woman = body(
        "a woman",
        BodyKind::Woman,
        &[
            (Measure::Height, 1628.0),
            (Measure::BustGirth, 920.0),
            (Measure::WaistGirth, 720.0),
            (Measure::HipGirth, 1010.0),
            (Measure::BackWaistLength, 421.9),
            (Measure::ShoulderWidth, 366.1),
            (Measure::UpperArmGirth, 298.9),
        ],
    );
    let doll = |height: f64| {
        body(
            &format!("{height} mm doll"),
            BodyKind::Doll,
            &[(Measure::Height, height)],
        )
    };
    let dolls = Dolls {
        play_45: doll(457.0),
        play_36: doll(360.0),
        fashion_29: doll(290.0),
        jointed_60: doll(600.0),
        twelfth: doll(137.0),
    };
    vec![
        harbour_jacket_project(&woman, &dolls).unwrap(),
        net_menders_smock_project(&woman, &dolls).unwrap(),
        sunday_skirts_project(&woman, &dolls).unwrap(),
    ]
}

/// A change through one of the two doors.
fn edit(chance: &mut Chance, project: &Project, on_fitting: bool) -> Option<Edit> {
    if !on_fitting {
        let garment = chance.of(&project.garments)?.clone();
        let alteration = Maker::new(chance, &garment)?.alteration();
        return Some(Edit::Alter {
            garment: garment.name.clone(),
            alteration,
        });
    }
    let fitting = chance.of(&project.fittings)?.clone();
    let garment = project.garment(&fitting.garment)?;
    let steps = fitting.alterations.len();
    let change = if steps > 0 && chance.below(4) == 0 {
        FittingEdit::RemoveAlteration(chance.below(steps))
    } else {
        let made = replay(Garment::clone(garment), &fitting.alterations, "").outcome;
        let alteration = Maker::new(chance, &made)?.alteration();
        if steps > 6 {
            FittingEdit::SetAlteration(chance.below(steps), alteration)
        } else {
            FittingEdit::AddAlteration(alteration)
        }
    };
    Some(Edit::Fitting {
        fitting: fitting.name.clone(),
        change,
    })
}

/// Closed, counter-clockwise, crossing itself nowhere.
fn assert_sound(before: &Garment, garment: &Garment, did: &str) {
    assert_eq!(garment.check_references(), Ok(()), "{did}");
    for piece in &garment.pieces {
        let same = before
            .piece(&piece.name)
            .is_some_and(|old| Arc::ptr_eq(old, piece));
        if same {
            continue;
        }
        let edges = piece.outline.edges().to_vec();
        let again = Outline::new(edges).unwrap_or_else(|e| panic!("{did}: {}: {e}", piece.name));
        assert_eq!(again, piece.outline, "{did}: {} runs clockwise", piece.name);
        assert!(
            crosses_itself(&piece.outline).is_none() || crossing_is_found(piece),
            "{did}: {} crosses itself and nothing says so",
            piece.name
        );
    }
}

/// What `finish` tells the maker about a crossing is found by this.
fn crossing_is_found(piece: &Piece) -> bool {
    let edges = piece.outline.edges().iter();
    let chain: Vec<_> = edges.flat_map(|edge| edge.line.cubics()).collect();
    !self_crossings(&chain).is_empty()
}

fn saved(project: &Project) -> String {
    serde_json::to_string(project).unwrap()
}

/// The first fitting through all steps of core: whatever was done to it, the outcome is findings, not a panic.
fn whole_way(project: &Project) {
    let fitting = &project.fittings[0];
    let garment = project.garment(&fitting.garment).unwrap();
    let Ok(adapted) = adapt_garment(garment, fitting) else {
        return;
    };
    let filled = Arc::new(fill(&Arc::new(adapted)).outcome);
    let finished = finish(&filled).outcome;
    check(&finished);
}

/// How many changes were taken, of how many.
fn sequence(seed: u64, first: &Project, kinds: &mut Taken) -> (usize, usize) {
    let mut chance = Chance(seed);
    let bytes = saved(first);
    let mut history: Vec<Project> = vec![first.clone()];
    let mut taken = 0;
    let mut marks: Vec<(usize, String)> = Vec::new();
    for number in 0..CHANGES {
        let now = history.last().unwrap().clone();
        let on_fitting = chance.below(4) == 0;
        let Some(edit) = edit(&mut chance, &now, on_fitting) else {
            continue;
        };
        let did = edit.words(LengthUnit::Millimetre);
        let Ok(next) = now.edited(&edit) else {
            continue;
        };
        taken += 1;
        if let (Edit::Alter { .. }, Some(alteration)) = (&edit, alteration_of(&edit)) {
            *kinds.entry(kind_of(alteration)).or_default() += 1;
            if let Alteration::Pieces(PiecesChange::Cut {
                through: Some(_), ..
            }) = alteration
            {
                *kinds.entry(CURVED_CUT.to_owned()).or_default() += 1;
            }
        }
        for (old, new) in now.garments.iter().zip(&next.garments) {
            if !Arc::ptr_eq(old, new) {
                assert_sound(old, new, &format!("seed {seed}, change {number}, {did}"));
            }
        }
        if let Edit::Fitting { fitting, .. } = &edit {
            let fitting = next.fitting(fitting).unwrap();
            let garment = next.garment(&fitting.garment).unwrap();
            let made = replay(Garment::clone(garment), &fitting.alterations, "").outcome;
            assert_sound(
                garment,
                &made,
                &format!("seed {seed}, change {number}, {did}"),
            );
        }
        if number % 50 == 0 {
            next.check().unwrap_or_else(|e| panic!("{did}: {e}"));
            marks.push((history.len(), saved(&next)));
        }
        history.push(next);
    }
    if seed < WHOLE_WAYS {
        whole_way(history.last().unwrap());
    }
    while history.len() > 1 {
        if let Some((_, then)) = marks.iter().find(|(at, _)| at + 1 == history.len()) {
            assert_eq!(saved(history.last().unwrap()), *then);
        }
        history.pop();
    }
    assert_eq!(saved(&history[0]), bytes, "undone all the way");
    (taken, CHANGES)
}

#[test]
fn a_hundred_sequences_of_two_hundred_changes_leave_sound_outlines_and_can_be_undone() {
    let projects = projects();
    let (mut taken, mut asked) = (0, 0);
    let mut kinds = Taken::new();
    for seed in 0..SEQUENCES {
        let first = &projects[(seed % 3) as usize];
        let (some, all) = sequence(seed, first, &mut kinds);
        taken += some;
        asked += all;
    }
    let never: Vec<&str> = KINDS
        .into_iter()
        .chain([CURVED_CUT])
        .filter(|kind| !kinds.contains_key(*kind))
        .collect();
    assert!(never.is_empty(), "never taken: {never:?}");
    // most of what is asked by chance makes no sense; what is taken must be enough to test with
    assert!(
        taken * 5 > asked,
        "only {taken} of {asked} changes were taken"
    );
}
