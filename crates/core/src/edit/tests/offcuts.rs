//! Offcuts, and what lies on them.

use super::*;
use crate::cloth::Offcut;
use crate::lay_plan::{CopyRef, LayChange, PartRef};

fn offcut(name: &str) -> Edit {
    let corners = [(0.0, 0.0), (200.0, 0.0), (200.0, 100.0), (0.0, 100.0)];
    Edit::PutOffcut(Arc::new(Offcut {
        name: name.to_owned(),
        cloth: "lawn".to_owned(),
        outline: corners.into_iter().map(kurbo::Point::from).collect(),
        blemishes: Vec::new(),
        grain: Degrees(0.0),
        grain_doubt: Degrees(0.0),
        face: crate::piece::Face::Right,
        sides_alike: false,
        nap: false,
        margin: Mm(0.0),
        thickness: None,
    }))
}

fn lying(piece: &str, on: &str) -> Placed {
    Placed {
        piece: piece.to_owned(),
        copy: WHOLE,
        number: 0,
        part: 0,
        offcut: on.to_owned(),
        turn: Degrees(0.0),
        moved: (0.0, 0.0),
        mirrored: false,
        pinned: false,
        as_cut: None,
    }
}

fn front() -> PartRef {
    PartRef {
        of: CopyRef {
            piece: "front".to_owned(),
            copy: WHOLE,
            number: 0,
        },
        part: 0,
    }
}

fn cut() -> Edit {
    let outline = [(0.0, 0.0), (50.0, 0.0), (0.0, 50.0)];
    let outline = outline.into_iter().map(kurbo::Point::from).collect();
    on_skirt(FittingEdit::Lay(LayChange::Cut(vec![(front(), outline)])))
}

fn after(project: &Project, edits: &[Edit]) -> Project {
    edits.iter().fold(project.clone(), |project, edit| {
        project.edited(edit).unwrap()
    })
}

/// The skirt's front lies on the blue offcut.
fn laid() -> Project {
    let put = on_skirt(FittingEdit::Lay(LayChange::Put(lying("front", "blue"))));
    after(&project(), &[offcut("blue"), offcut("red"), put])
}

fn where_it_lies(project: &Project) -> Vec<String> {
    let fittings = project.fittings.iter();
    let plans = fittings.flat_map(|fitting| &fitting.lay_plan);
    plans
        .flat_map(|plan| plan.placed.iter().map(|placed| placed.offcut.clone()))
        .collect()
}

#[test]
fn an_offcut_that_is_taken_out_gives_back_what_lay_on_it() {
    let laid = laid();
    assert_eq!(where_it_lies(&laid), ["blue"]);
    let without = after(&laid, &[Edit::RemoveOffcut("blue".to_owned())]);
    assert_eq!(without.offcuts.len(), 1);
    assert!(where_it_lies(&without).is_empty());
}

#[test]
fn an_offcut_that_something_was_cut_from_stays_until_it_is_used_up() {
    let cut = after(&laid(), &[cut()]);
    let why = cut
        .edited(&Edit::RemoveOffcut("blue".to_owned()))
        .unwrap_err();
    assert!(why.to_string().contains("front"), "{why}");
    let used_up = after(&cut, &[Edit::UseUpOffcut("blue".to_owned())]);
    assert!(used_up.offcut("blue").is_none());
    assert_eq!(
        where_it_lies(&used_up),
        ["blue"],
        "what was cut keeps its mark"
    );
}

#[test]
fn an_offcut_with_something_uncut_on_it_is_not_used_up() {
    let why = laid()
        .edited(&Edit::UseUpOffcut("blue".to_owned()))
        .unwrap_err();
    assert!(why.to_string().contains("front"), "{why}");
}

#[test]
fn what_lies_on_an_offcut_follows_its_new_name() {
    let rename = |from: &str, to: &str| Edit::RenameOffcut {
        offcut: from.to_owned(),
        name: to.to_owned(),
    };
    let renamed = after(&laid(), &[rename("blue", "sky")]);
    assert_eq!(where_it_lies(&renamed), ["sky"]);
    let why = laid().edited(&rename("blue", "red")).unwrap_err();
    assert_eq!(
        why,
        EditError::Taken {
            what: "offcut",
            name: "red".to_owned()
        }
    );
}

#[test]
fn what_is_cut_cannot_be_moved_until_the_mark_is_taken_away() {
    let cut = after(&laid(), &[cut()]);
    for change in [
        LayChange::Put(lying("front", "red")),
        LayChange::TakeUp(front()),
        LayChange::Piece(front().of, None),
    ] {
        let why = cut.edited(&on_skirt(FittingEdit::Lay(change))).unwrap_err();
        assert!(why.to_string().contains("cut already"), "{why}");
    }
    let not_cut = on_skirt(FittingEdit::Lay(LayChange::NotCut(front())));
    let up = on_skirt(FittingEdit::Lay(LayChange::TakeUp(front())));
    assert!(where_it_lies(&after(&cut, &[not_cut, up])).is_empty());
}

#[test]
fn a_part_that_lies_nowhere_cannot_be_pinned() {
    let cloth = after(&project(), &[offcut("blue")]);
    let pin = on_skirt(FittingEdit::Lay(LayChange::Pin(front(), true)));
    let why = cloth.edited(&pin).unwrap_err();
    assert!(why.to_string().contains("lies on no cloth"), "{why}");
}

#[test]
fn an_offcut_without_an_area_is_refused() {
    let Edit::PutOffcut(whole) = offcut("blue") else {
        unreachable!()
    };
    for outline in [
        vec![],
        vec![kurbo::Point::ZERO; 2],
        vec![kurbo::Point::new(f64::NAN, 0.0); 3],
    ] {
        let bad = Offcut {
            outline,
            ..Offcut::clone(&whole)
        };
        let why = project()
            .edited(&Edit::PutOffcut(Arc::new(bad)))
            .unwrap_err();
        assert!(why.to_string().contains("blue"), "{why}");
    }
}

#[test]
fn every_offcut_is_taken_for_larger_about_its_middle_with_its_holes() {
    let Edit::PutOffcut(whole) = offcut("blue") else {
        panic!("an offcut");
    };
    let hole = [(90.0, 40.0), (110.0, 40.0), (110.0, 60.0), (90.0, 60.0)];
    let holed = Offcut {
        blemishes: vec![crate::cloth::Blemish {
            outline: hole.into_iter().map(kurbo::Point::from).collect(),
            is_hole: true,
            good_for: Default::default(),
        }],
        ..Offcut::clone(&whole)
    };
    let project = after(
        &project(),
        &[Edit::PutOffcut(Arc::new(holed)), offcut("red")],
    );
    let grown = after(&project, &[Edit::GrowOffcuts(4.0)]);
    let blue = grown.offcut("blue").unwrap();
    // 200 x 100 mm about (100, 50): 208 x 104 mm; the hole of 20 mm about the same middle: 20.8 mm.
    let bounds = blue.bounds();
    assert!((bounds.width() - 208.0).abs() < 1e-9 && (bounds.height() - 104.0).abs() < 1e-9);
    assert!((bounds.center() - kurbo::Point::new(100.0, 50.0)).hypot() < 1e-9);
    assert!((blue.blemishes[0].outline[0] - kurbo::Point::new(89.6, 39.6)).hypot() < 1e-9);
    assert!((grown.offcut("red").unwrap().bounds().width() - 208.0).abs() < 1e-9);
    assert_eq!(
        Edit::GrowOffcuts(4.0).words(LengthUnit::Millimetre),
        "take every offcut for 4 % larger"
    );
    for bad in [f64::NAN, -1.0, 101.0] {
        assert!(project.edited(&Edit::GrowOffcuts(bad)).is_err(), "{bad}");
    }
}
