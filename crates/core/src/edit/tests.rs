#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use kurbo::Point;

use super::*;
use crate::body::{BodyKind, Measured, Origin, Torso};
use crate::edge::{Edge, Finish, OutlinePoint};
use crate::fitting::DetailRule;
use crate::garment::{Opening, Passing};
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::lay_plan::Placed;
use crate::measure::Level;
use crate::piece::{BodyLine, Copy, Frame, Placement, Side};
use crate::seams::{Relation, Seam, SeamKind, Stretch};
use crate::tape::{Hold, TapeKind, TapeLine, TapePart, TapePath};
use crate::units::Degrees;

const WHOLE: Copy = Copy {
    side: Side::Whole,
    role: Role::Shell,
};

fn rectangle(name: &str, hem: Finish) -> Piece {
    let corners = [
        Point::new(0.0, 0.0),
        Point::new(40.0, 0.0),
        Point::new(40.0, 60.0),
        Point::new(0.0, 60.0),
    ];
    let side = |name: &str, from: usize, to: usize| {
        Edge::seam(name, Line::straight(corners[from], corners[to]))
    };
    let hem = Edge::finished("hem", Line::straight(corners[0], corners[1]), hem);
    Piece {
        name: name.to_owned(),
        outline: Outline::new(vec![
            hem,
            side("right", 1, 2),
            side("waist", 2, 3),
            side("left", 3, 0),
        ])
        .unwrap(),
        placement: Placement::Framed(Frame::Torso),
        body_lines: vec![BodyLine {
            level: Level::Waist,
            from: OutlinePoint::new("waist", 0.0),
            to: OutlinePoint::new("waist", 1.0),
        }],
        darts: Vec::new(),
        notches: Vec::new(),
        marks: Vec::new(),
        grainline: None,
        fullness: Vec::new(),
        copies: vec![WHOLE],
    }
}

fn stretch(piece: &str, edge: &str) -> Stretch {
    Stretch {
        piece: piece.to_owned(),
        copy: WHOLE,
        edge: edge.to_owned(),
        from: 0.0,
        to: 1.0,
    }
}

fn skirt() -> Garment {
    let hem = Finish::Hem {
        width: None,
        turns: 2,
    };
    let part = |piece: &str| TapePart {
        piece: piece.to_owned(),
        path: TapePath::Along {
            edge: "waist".to_owned(),
            from: 0.0,
            to: 1.0,
        },
    };
    Garment {
        name: "skirt".to_owned(),
        made_for: Arc::new(Body::new("me", BodyKind::Woman)),
        pieces: vec![
            Arc::new(rectangle("front", hem)),
            Arc::new(rectangle("back", hem)),
        ],
        seams: vec![Seam {
            name: "side".to_owned(),
            a: vec![stretch("front", "right")],
            b: vec![stretch("back", "left")],
            mirrored: false,
            relation: Relation::Equal,
            kind: SeamKind::Plain,
            inserts: Vec::new(),
        }],
        tape_lines: vec![TapeLine {
            name: "waist".to_owned(),
            measure: Measure::WaistGirth,
            share: 1.0,
            kind: TapeKind::Girth,
            parts: vec![part("front"), part("back")],
            hold: Hold::Auto,
            overlap: Mm(0.0),
            lacing_gap: Mm(0.0),
        }],
        openings: vec![Opening {
            name: "waist".to_owned(),
            hole: vec![EdgeRef::new("front", "waist")],
            slit: vec![EdgeRef::new("back", "left")],
            passes: Passing::Trunk,
        }],
        cloths: Default::default(),
        included_allowance: Default::default(),
    }
}

fn doll() -> Body {
    let mut doll =
        Body::new("doll", BodyKind::Doll).with(Measure::WaistGirth, Measured::own_tape(Mm(84.0)));
    doll.torso = Torso::Soft { give: Mm(2.0) };
    doll
}

/// A project with a skirt, a doll, two fittings and an outfit.
fn project() -> Project {
    let body = Arc::new(doll());
    let edits = [
        Edit::RenameProject("Sunday".to_owned()),
        Edit::PutGarment(Arc::new(skirt())),
        Edit::PutBody(body.clone()),
        Edit::PutFitting(Arc::new(Fitting::new(
            "skirt on doll",
            "skirt",
            body.clone(),
        ))),
        Edit::PutFitting(Arc::new(Fitting::new("petticoat", "skirt", body))),
        Edit::PutOutfit(Outfit {
            name: "best".to_owned(),
            layers: vec!["petticoat".to_owned(), "skirt on doll".to_owned()],
        }),
    ];
    edits.iter().fold(Project::default(), |project, edit| {
        project.edited(edit).unwrap()
    })
}

fn on_skirt(change: FittingEdit) -> Edit {
    Edit::Fitting {
        fitting: "skirt on doll".to_owned(),
        change,
    }
}

/// The fitting after a change that must be possible; nothing else may have moved, and references still hold.
fn changed(project: &Project, change: FittingEdit) -> Fitting {
    let before = project.clone();
    let after = project.edited(&on_skirt(change)).unwrap();
    assert_eq!(*project, before, "the old snapshot must stay as it was");
    assert!(
        Arc::ptr_eq(&after.garments[0], &project.garments[0]),
        "the garment must stay shared"
    );
    assert!(
        Arc::ptr_eq(&after.bodies[0], &project.bodies[0]),
        "the body must stay shared"
    );
    assert!(
        Arc::ptr_eq(&after.fittings[1], &project.fittings[1]),
        "the other fitting must stay shared"
    );
    assert_eq!(after.check_references(), Ok(()));
    Fitting::clone(after.fitting("skirt on doll").unwrap())
}

fn refused(edit: &Edit) -> String {
    project().edited(edit).unwrap_err().to_string()
}

#[test]
fn a_new_project_is_built_by_edits_alone() {
    let project = project();
    assert_eq!(
        (
            project.name.as_str(),
            project.garments.len(),
            project.fittings.len()
        ),
        ("Sunday", 1, 2)
    );
    assert_eq!(project.check_references(), Ok(()));
    assert!(project.waiting_choices().is_empty());
}

#[test]
fn putting_replaces_what_has_the_same_name_and_keeps_its_place() {
    let project = project();
    let longer = Garment {
        tape_lines: Vec::new(),
        ..skirt()
    };
    let after = project
        .edited(&Edit::PutGarment(Arc::new(longer.clone())))
        .unwrap();
    assert_eq!(after.garments, vec![Arc::new(longer)]);
    assert!(Arc::ptr_eq(&after.fittings[0], &project.fittings[0]));
    let plain = Fitting::new(
        "skirt on doll",
        "skirt",
        Arc::new(Body::new("bear", BodyKind::Doll)),
    );
    let after = project.edited(&Edit::PutFitting(Arc::new(plain))).unwrap();
    assert_eq!(
        after
            .fittings
            .iter()
            .map(|f| f.body.name.as_str())
            .collect::<Vec<_>>(),
        ["bear", "doll"]
    );
    let after = project
        .edited(&Edit::PutBody(Arc::new(Body::new("doll", BodyKind::Child))))
        .unwrap();
    assert_eq!(
        after.bodies.iter().map(|b| b.kind).collect::<Vec<_>>(),
        [BodyKind::Child]
    );
    let alone = Outfit {
        name: "best".to_owned(),
        layers: vec!["petticoat".to_owned()],
    };
    assert_eq!(
        project
            .edited(&Edit::PutOutfit(alone.clone()))
            .unwrap()
            .outfits,
        vec![alone]
    );
}

#[test]
fn a_piece_is_replaced_while_its_neighbour_stays_shared() {
    let project = project();
    let piece = Arc::new(Piece {
        grainline: Some((Point::ZERO, Point::new(0.0, 9.0))),
        ..rectangle("front", Finish::Raw)
    });
    let after = project
        .edited(&Edit::PutPiece {
            garment: "skirt".to_owned(),
            piece: piece.clone(),
        })
        .unwrap();
    assert!(Arc::ptr_eq(&after.garments[0].pieces[0], &piece));
    assert!(Arc::ptr_eq(
        &after.garments[0].pieces[1],
        &project.garments[0].pieces[1]
    ));
    assert!(Arc::ptr_eq(
        &after.garments[0].made_for,
        &project.garments[0].made_for
    ));
}

#[test]
fn what_is_in_use_cannot_be_taken_out() {
    insta::assert_snapshot!(refused(&Edit::RemoveGarment("skirt".to_owned())), @"skirt is still used by the fitting skirt on doll; take that out first");
    insta::assert_snapshot!(refused(&Edit::RemoveFitting("petticoat".to_owned())), @"petticoat is still used by the outfit best; take that out first");
    let mut project = project();
    for edit in [
        Edit::RemoveOutfit("best".to_owned()),
        Edit::RemoveFitting("petticoat".to_owned()),
        Edit::RemoveFitting("skirt on doll".to_owned()),
        Edit::RemoveGarment("skirt".to_owned()),
        Edit::RemoveBody("doll".to_owned()),
    ] {
        project = project.edited(&edit).unwrap();
    }
    assert_eq!(
        project,
        Project {
            name: "Sunday".to_owned(),
            ..Project::default()
        }
    );
}

#[test]
fn what_is_not_there_is_named() {
    let name = || "cape".to_owned();
    for (edit, says) in [
        (
            Edit::RemoveGarment(name()),
            "there is no garment called cape",
        ),
        (Edit::RemoveBody(name()), "there is no body called cape"),
        (
            Edit::RemoveFitting(name()),
            "there is no fitting called cape",
        ),
        (Edit::RemoveOutfit(name()), "there is no outfit called cape"),
        (
            Edit::PutPiece {
                garment: name(),
                piece: Arc::new(rectangle("front", Finish::Raw)),
            },
            "there is no garment called cape",
        ),
        (
            Edit::PutPiece {
                garment: "skirt".to_owned(),
                piece: Arc::new(rectangle("cape", Finish::Raw)),
            },
            "there is no piece called cape",
        ),
        (
            Edit::PutFitting(Arc::new(Fitting::new("x", "cape", Arc::new(doll())))),
            "there is no garment called cape",
        ),
        (
            Edit::PutOutfit(Outfit {
                name: name(),
                layers: vec![name()],
            }),
            "there is no fitting called cape",
        ),
        (
            Edit::Fitting {
                fitting: name(),
                change: FittingEdit::SetShoes(true),
            },
            "there is no fitting called cape",
        ),
        (
            on_skirt(FittingEdit::SetShaping(name(), Some(Shaping::FollowBody))),
            "there is no piece called cape",
        ),
        (
            on_skirt(FittingEdit::SetDetailOf(name(), Some(DetailRule::Girth))),
            "there is no piece called cape",
        ),
        (
            on_skirt(FittingEdit::SetDemand(
                name(),
                Some(DemandChoice::default()),
            )),
            "there is no tape line or seam called cape",
        ),
        (
            on_skirt(FittingEdit::SetSingleAllowance(
                EdgeRef::new("front", "cape"),
                Some(Mm(3.0)),
            )),
            "there is no edge called front, cape",
        ),
        (
            on_skirt(FittingEdit::RemoveAlteration(0)),
            "there is no alteration called number 1",
        ),
        (
            on_skirt(FittingEdit::ForgetMeasure(Measure::HipGirth)),
            "there is no given measure called Hip girth",
        ),
        (
            on_skirt(FittingEdit::AddAlteration(Alteration::LengthenAt {
                piece: "front".to_owned(),
                level: Level::Hip,
                by: Mm(3.0),
            })),
            "there is no body line called Hip on front",
        ),
    ] {
        assert_eq!(refused(&edit), says, "{edit:?}");
    }
}

#[test]
fn a_name_is_never_blank_and_a_key_never_double() {
    let blank = || " ".to_owned();
    for edit in [
        Edit::RenameProject(blank()),
        Edit::PutGarment(Arc::new(Garment {
            name: blank(),
            ..skirt()
        })),
        Edit::PutBody(Arc::new(Body::new(blank(), BodyKind::Doll))),
        Edit::PutFitting(Arc::new(Fitting::new(blank(), "skirt", Arc::new(doll())))),
        Edit::PutOutfit(Outfit {
            name: blank(),
            layers: Vec::new(),
        }),
        Edit::SetStashFile(Some(blank())),
        Edit::SetWardrobeFile(Some(blank())),
        on_skirt(FittingEdit::Tick(blank(), true)),
    ] {
        assert!(
            refused(&edit).ends_with("needs a name; type one"),
            "{edit:?}"
        );
    }
    let keyed = |name: &str| {
        let mut body = Body::new(name, BodyKind::Doll);
        body.key = "anna".to_owned();
        Edit::PutBody(Arc::new(body))
    };
    let with_anna = project().edited(&keyed("Anna")).unwrap();
    assert!(with_anna.edited(&keyed("Anna")).is_ok());
    assert_eq!(
        with_anna.edited(&keyed("Berta")),
        Err(EditError::Taken {
            what: "body",
            name: "anna".to_owned()
        })
    );
}

#[test]
fn a_garment_whose_parts_name_nothing_is_refused() {
    let mut garment = skirt();
    garment.seams[0].b[0].edge = "slope".to_owned();
    insta::assert_snapshot!(refused(&Edit::PutGarment(Arc::new(garment))), @"skirt, seam side: there is no edge called back, slope; put it back or take it out of skirt, seam side");
    let mut garment = skirt();
    garment
        .pieces
        .push(Arc::new(rectangle("front", Finish::Raw)));
    insta::assert_snapshot!(refused(&Edit::PutGarment(Arc::new(garment))), @"skirt: two of its pieces are called front; rename one");
    let mut cut = rectangle("front", Finish::Raw);
    cut.body_lines[0].from.edge = "slope".to_owned();
    let edit = Edit::PutPiece {
        garment: "skirt".to_owned(),
        piece: Arc::new(cut),
    };
    insta::assert_snapshot!(refused(&edit), @"skirt, front, body line Waist: there is no edge called slope; put it back or take it out of skirt, front, body line Waist");
}

#[test]
fn every_reference_of_a_project_is_checked() {
    let says = |spoil: fn(&mut Garment)| {
        let mut garment = skirt();
        spoil(&mut garment);
        garment.check_references().unwrap_err().to_string()
    };
    assert!(
        says(|g| g.tape_lines[0].parts[1].piece = "cape".to_owned())
            .starts_with("skirt, tape line waist: there is no piece called cape")
    );
    assert!(
        says(|g| g.openings[0].hole[0].edge = "cape".to_owned())
            .starts_with("skirt, opening waist: there is no edge called front, cape")
    );
    assert!(
        says(|g| g.included_allowance = [(EdgeRef::new("cape", "hem"), Mm(5.0))].into())
            .starts_with("skirt, included allowance: there is no piece called cape")
    );
    assert!(
        says(|g| g.seams.push(g.seams[0].clone()))
            .starts_with("skirt: two of its seams are called side")
    );
    assert!(
        says(|g| g.tape_lines.push(g.tape_lines[0].clone()))
            .starts_with("skirt: two of its tape lines are called waist")
    );

    let mut broken = project();
    broken.garments.clear();
    assert_eq!(
        broken.check_references().unwrap_err().to_string(),
        "fitting skirt on doll: there is no garment called skirt; put it back or take it out of fitting skirt on doll"
    );
    let mut broken = project();
    broken.fittings.pop();
    assert!(
        broken
            .check_references()
            .unwrap_err()
            .to_string()
            .starts_with("outfit best: there is no fitting called petticoat")
    );
    let mut broken = project();
    broken.fittings.push(broken.fittings[0].clone());
    assert!(
        broken
            .check_references()
            .unwrap_err()
            .to_string()
            .starts_with("the project: two of its fittings")
    );
}

#[test]
fn choices_about_a_piece_that_went_away_wait_and_are_named() {
    let choice = on_skirt(FittingEdit::SetShaping(
        "back".to_owned(),
        Some(Shaping::KeepDirections),
    ));
    let allowance = on_skirt(FittingEdit::SetSingleAllowance(
        EdgeRef::new("back", "hem"),
        Some(Mm(9.0)),
    ));
    let demand = on_skirt(FittingEdit::SetDemand(
        "waist".to_owned(),
        Some(DemandChoice::default()),
    ));
    let mut project = project();
    for edit in [choice, allowance, demand] {
        project = project.edited(&edit).unwrap();
    }
    assert!(project.waiting_choices().is_empty());
    let mut garment = skirt();
    garment.pieces.pop();
    garment.seams.clear();
    garment.tape_lines.clear();
    garment.openings.clear();
    let after = project
        .edited(&Edit::PutGarment(Arc::new(garment)))
        .unwrap();
    assert_eq!(after.check_references(), Ok(()));
    // The allowance of the edge and the shaping both miss the back: named once.
    assert_eq!(after.waiting_choices().len(), 2);
    let forgotten = after
        .edited(&on_skirt(FittingEdit::SetDemand("waist".to_owned(), None)))
        .unwrap();
    assert_eq!(
        forgotten
            .waiting_choices()
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>(),
        [
            "fitting skirt on doll: there is no piece called back; put it back or take it out of fitting skirt on doll"
        ]
    );
}

#[test]
fn sizes_outside_their_limits_are_refused_with_the_limits() {
    insta::assert_snapshot!(refused(&on_skirt(FittingEdit::SetHem(Mm(201.0)))), @"the hem cannot be 201.00 mm; it must be between 0.00 and 200.00 mm");
    insta::assert_snapshot!(refused(&on_skirt(FittingEdit::SetCornerLimit(0.5))), @"how far a corner runs out cannot be 0.50; it must be between 1.00 and 10.00");
    let mut wide = doll();
    wide.measures
        .insert(Measure::HipGirth, Measured::own_tape(Mm(3001.0)));
    let paper = PaperSettings {
        margin: Mm(-1.0),
        ..PaperSettings::default()
    };
    let cloth = |thickness| Cloth {
        name: "felt".to_owned(),
        thickness: Mm(thickness),
        source: String::new(),
    };
    let demand = |choice| FittingEdit::SetDemand("waist".to_owned(), Some(choice));
    let placed = Placed {
        piece: "front".to_owned(),
        copy: WHOLE,
        offcut: "blue".to_owned(),
        turn: Degrees(f64::NAN),
        moved: (0.0, 0.0),
        mirrored: false,
    };
    let moved = Alteration::MoveEdge {
        edge: EdgeRef::new("front", "hem"),
        outwards: Mm(f64::INFINITY),
    };
    for change in [
        FittingEdit::SetSeamAllowance(Mm(-0.1)),
        FittingEdit::SetSeamAllowance(Mm(60.1)),
        FittingEdit::SetSeamAllowance(Mm(f64::NAN)),
        FittingEdit::SetHem(Mm(-1.0)),
        FittingEdit::SetNotchDepth(Mm(21.0)),
        FittingEdit::SetCornerLimit(f64::NAN),
        FittingEdit::SetSingleAllowance(EdgeRef::new("front", "left"), Some(Mm(61.0))),
        FittingEdit::SetSingleAllowance(EdgeRef::new("front", "hem"), Some(Mm(201.0))),
        FittingEdit::SetMeasure(Measure::WaistGirth, Mm(0.4)),
        FittingEdit::SetMeasure(Measure::WaistGirth, Mm(f64::NAN)),
        FittingEdit::SetBody(Arc::new(wide)),
        FittingEdit::SetPaper(paper),
        FittingEdit::SetCloth(Role::Shell, Some(cloth(-0.1))),
        FittingEdit::SetCloth(Role::Shell, Some(cloth(f64::NAN))),
        FittingEdit::SetWornUnderneath(vec![Mm(0.3), Mm(f64::NAN)]),
        demand(DemandChoice {
            measure: Some(Mm(0.0)),
            ..DemandChoice::default()
        }),
        demand(DemandChoice {
            ease: Some(Mm(f64::NAN)),
            ..DemandChoice::default()
        }),
        demand(DemandChoice {
            rank: Some(0),
            ..DemandChoice::default()
        }),
        FittingEdit::AddAlteration(moved),
        FittingEdit::SetLayPlan(Some(LayPlan {
            placed: vec![placed],
            ..LayPlan::default()
        })),
    ] {
        assert!(
            refused(&on_skirt(change.clone())).contains("must be between"),
            "{change:?}"
        );
    }
    let mut sheet = Fitting::new("x", "skirt", Arc::new(doll()));
    sheet.allowances.seam = Mm(f64::NAN);
    assert!(refused(&Edit::PutFitting(Arc::new(sheet))).contains("the seam allowance"));
}

#[test]
fn a_typed_measure_is_the_makers_own_tape() {
    let project = project();
    let fitting = changed(
        &project,
        FittingEdit::SetMeasure(Measure::HipGirth, Mm(126.0)),
    );
    let figure = fitting.body.measure(Measure::HipGirth);
    assert_eq!(
        (figure.value, figure.origin, figure.source.as_str()),
        (Mm(126.0), Origin::Measured, "own tape")
    );
    assert_eq!(
        project.fittings[0].body.measure(Measure::HipGirth).origin,
        Origin::Estimated
    );
    let fitting = changed(&project, FittingEdit::ForgetMeasure(Measure::WaistGirth));
    assert_eq!(
        fitting.body.measure(Measure::WaistGirth).origin,
        Origin::Estimated
    );
}

#[test]
fn every_change_to_a_fitting_changes_what_it_names_and_nothing_else() {
    let project = project();
    let before = Fitting::clone(&project.fittings[0]);
    let check = |change: FittingEdit, alter: &dyn Fn(&mut Fitting)| {
        let mut expected = before.clone();
        alter(&mut expected);
        let fitting = changed(&project, change.clone());
        assert_eq!(fitting, expected, "{change:?}");
        if !matches!(change, FittingEdit::SetBody(_)) {
            assert!(
                Arc::ptr_eq(&fitting.body, &project.fittings[0].body),
                "{change:?}"
            );
        }
    };
    let bear = Arc::new(Body::new("bear", BodyKind::Doll));
    check(FittingEdit::SetBody(bear.clone()), &|f| {
        f.body = bear.clone()
    });
    check(FittingEdit::SetEase(EasePolicy::Absolute), &|f| {
        f.ease = EasePolicy::Absolute
    });
    let shaping = Shaping::KeepDirections;
    check(
        FittingEdit::SetShaping("front".to_owned(), Some(shaping)),
        &|f| {
            f.shaping.insert("front".to_owned(), shaping);
        },
    );
    let choice = DemandChoice {
        hold: Some(Hold::Fitted),
        rank: Some(2),
        ..DemandChoice::default()
    };
    check(
        FittingEdit::SetDemand("side".to_owned(), Some(choice)),
        &|f| {
            f.demands.insert("side".to_owned(), choice);
        },
    );
    check(FittingEdit::SetDetails(DetailRule::Girth), &|f| {
        f.details = DetailRule::Girth
    });
    check(
        FittingEdit::SetDetailOf("back".to_owned(), Some(DetailRule::Girth)),
        &|f| {
            f.detail_of.insert("back".to_owned(), DetailRule::Girth);
        },
    );
    let felt = Cloth {
        name: "felt".to_owned(),
        thickness: Mm(1.0),
        source: String::new(),
    };
    check(
        FittingEdit::SetCloth(Role::Lining, Some(felt.clone())),
        &|f| {
            f.cloths.insert(Role::Lining, felt.clone());
        },
    );
    check(FittingEdit::SetWornUnderneath(vec![Mm(0.3)]), &|f| {
        f.worn_underneath = vec![Mm(0.3)]
    });
    check(FittingEdit::SetShoes(true), &|f| f.with_shoes = true);
    check(FittingEdit::SetSeamAllowance(Mm(5.0)), &|f| {
        f.allowances.seam = Mm(5.0)
    });
    check(FittingEdit::SetHem(Mm(4.0)), &|f| {
        f.allowances.hem = Mm(4.0)
    });
    check(
        FittingEdit::SetSingleAllowance(EdgeRef::new("front", "hem"), Some(Mm(100.0))),
        &|f| {
            f.allowances
                .single
                .insert(EdgeRef::new("front", "hem"), Mm(100.0));
        },
    );
    check(FittingEdit::SetCornerLimit(2.5), &|f| {
        f.allowances.corner_limit = 2.5
    });
    check(FittingEdit::SetNotchDepth(Mm(2.0)), &|f| {
        f.allowances.notch_depth = Mm(2.0)
    });
    let paper = PaperSettings {
        overlap: Mm(12.0),
        ..PaperSettings::default()
    };
    check(FittingEdit::SetPaper(paper.clone()), &|f| {
        f.paper = paper.clone()
    });
    check(FittingEdit::SetLayPlan(Some(LayPlan::default())), &|f| {
        f.lay_plan = Some(LayPlan::default())
    });
    check(FittingEdit::Tick("side".to_owned(), true), &|f| {
        f.making.done.insert("side".to_owned());
    });
    let longer = Alteration::LengthenAt {
        piece: "front".to_owned(),
        level: Level::Waist,
        by: Mm(5.0),
    };
    check(FittingEdit::AddAlteration(longer.clone()), &|f| {
        f.alterations.push(longer.clone())
    });
    let corner = Alteration::MoveCorner {
        edge: EdgeRef::new("front", "hem"),
        right: Mm(1.0),
        up: Mm(-2.0),
    };
    check(FittingEdit::AddAlteration(corner.clone()), &|f| {
        f.alterations.push(corner.clone())
    });
}

#[test]
fn every_choice_can_be_forgotten_again() {
    let project = project();
    let chosen = [
        FittingEdit::SetShaping("front".to_owned(), Some(Shaping::FollowBody)),
        FittingEdit::SetDemand("waist".to_owned(), Some(DemandChoice::default())),
        FittingEdit::SetDetailOf("front".to_owned(), Some(DetailRule::Height)),
        FittingEdit::SetCloth(
            Role::Shell,
            Some(Cloth {
                name: "lawn".to_owned(),
                thickness: Mm(0.15),
                source: String::new(),
            }),
        ),
        FittingEdit::SetSingleAllowance(EdgeRef::new("front", "left"), Some(Mm(3.0))),
        FittingEdit::SetLayPlan(Some(LayPlan::default())),
        FittingEdit::Tick("side".to_owned(), true),
        FittingEdit::AddAlteration(Alteration::MoveEdge {
            edge: EdgeRef::new("front", "hem"),
            outwards: Mm(2.0),
        }),
    ];
    let forgotten = [
        FittingEdit::SetShaping("front".to_owned(), None),
        FittingEdit::SetDemand("waist".to_owned(), None),
        FittingEdit::SetDetailOf("front".to_owned(), None),
        FittingEdit::SetCloth(Role::Shell, None),
        FittingEdit::SetSingleAllowance(EdgeRef::new("front", "left"), None),
        FittingEdit::SetLayPlan(None),
        FittingEdit::Tick("side".to_owned(), false),
        FittingEdit::RemoveAlteration(0),
    ];
    let mut history = vec![project.clone()];
    for change in chosen {
        let next = history.last().unwrap().edited(&on_skirt(change)).unwrap();
        assert_ne!(&next, history.last().unwrap());
        history.push(next);
    }
    let back = forgotten
        .into_iter()
        .fold(history.last().unwrap().clone(), |p, change| {
            p.edited(&on_skirt(change)).unwrap()
        });
    assert_eq!(back, project);
    // Undo is keeping the snapshots: the first is still what it was.
    assert_eq!(history[0], project);
}

#[test]
fn the_rest_of_the_project_is_set_as_asked() {
    let project = project();
    let after = project.edited(&Edit::SetUnit(LengthUnit::Inch)).unwrap();
    assert_eq!(
        after,
        Project {
            unit: LengthUnit::Inch,
            ..project.clone()
        }
    );
    let after = project
        .edited(&Edit::SetStashFile(Some("scraps.ron".to_owned())))
        .unwrap();
    assert_eq!(after.stash_file.as_deref(), Some("scraps.ron"));
    assert_eq!(after.edited(&Edit::SetStashFile(None)).unwrap(), project);
    let after = project
        .edited(&Edit::SetWardrobeFile(Some("dolls.ron".to_owned())))
        .unwrap();
    assert_eq!(after.wardrobe_file.as_deref(), Some("dolls.ron"));
    assert_eq!(after.edited(&Edit::SetWardrobeFile(None)).unwrap(), project);
}

#[test]
fn an_undo_step_is_named_after_what_it_does() {
    let fitting = |change| on_skirt(change);
    let lawn = Cloth {
        name: "lawn".to_owned(),
        thickness: Mm(0.15),
        source: String::new(),
    };
    let demand = DemandChoice {
        hold: Some(Hold::Fitted),
        measure: Some(Mm(88.0)),
        ease: Some(Mm(4.0)),
        rank: Some(2),
    };
    let edits = [
        Edit::RenameProject("Sunday".to_owned()),
        Edit::SetUnit(LengthUnit::Inch),
        Edit::PutGarment(Arc::new(skirt())),
        Edit::RemoveGarment("skirt".to_owned()),
        Edit::PutPiece {
            garment: "skirt".to_owned(),
            piece: Arc::new(rectangle("front", Finish::Raw)),
        },
        Edit::PutBody(Arc::new(doll())),
        Edit::RemoveBody("doll".to_owned()),
        Edit::PutFitting(Arc::new(Fitting::new(
            "skirt on doll",
            "skirt",
            Arc::new(doll()),
        ))),
        Edit::RemoveFitting("skirt on doll".to_owned()),
        Edit::PutOutfit(Outfit {
            name: "best".to_owned(),
            layers: Vec::new(),
        }),
        Edit::RemoveOutfit("best".to_owned()),
        Edit::SetStashFile(Some("scraps.ron".to_owned())),
        Edit::SetStashFile(None),
        Edit::SetWardrobeFile(Some("dolls.ron".to_owned())),
        Edit::SetWardrobeFile(None),
        fitting(FittingEdit::SetBody(Arc::new(doll()))),
        fitting(FittingEdit::SetMeasure(Measure::WaistGirth, Mm(150.0))),
        fitting(FittingEdit::ForgetMeasure(Measure::WaistGirth)),
        fitting(FittingEdit::SetEase(EasePolicy::InProportion)),
        fitting(FittingEdit::SetEase(EasePolicy::Absolute)),
        fitting(FittingEdit::SetEase(EasePolicy::FromTable)),
        fitting(FittingEdit::SetShaping(
            "front".to_owned(),
            Some(Shaping::FollowBody),
        )),
        fitting(FittingEdit::SetShaping(
            "front".to_owned(),
            Some(Shaping::KeepDirections),
        )),
        fitting(FittingEdit::SetShaping("front".to_owned(), None)),
        fitting(FittingEdit::SetDemand("waist".to_owned(), Some(demand))),
        fitting(FittingEdit::SetDemand("waist".to_owned(), None)),
        fitting(FittingEdit::SetDetails(DetailRule::Girth)),
        fitting(FittingEdit::SetDetailOf(
            "front".to_owned(),
            Some(DetailRule::Height),
        )),
        fitting(FittingEdit::SetDetailOf("front".to_owned(), None)),
        fitting(FittingEdit::SetCloth(Role::FlatLined, Some(lawn))),
        fitting(FittingEdit::SetCloth(Role::Interlining, None)),
        fitting(FittingEdit::SetWornUnderneath(Vec::new())),
        fitting(FittingEdit::SetWornUnderneath(vec![Mm(0.3)])),
        fitting(FittingEdit::SetWornUnderneath(vec![Mm(0.3); 2])),
        fitting(FittingEdit::SetShoes(true)),
        fitting(FittingEdit::SetShoes(false)),
        fitting(FittingEdit::SetSeamAllowance(Mm(6.35))),
        fitting(FittingEdit::SetHem(Mm(4.0))),
        fitting(FittingEdit::SetSingleAllowance(
            EdgeRef::new("front", "left"),
            Some(Mm(3.0)),
        )),
        fitting(FittingEdit::SetSingleAllowance(
            EdgeRef::new("front", "left"),
            None,
        )),
        fitting(FittingEdit::SetCornerLimit(2.5)),
        fitting(FittingEdit::SetNotchDepth(Mm(3.0))),
        fitting(FittingEdit::AddAlteration(Alteration::MoveEdge {
            edge: EdgeRef::new("front", "left"),
            outwards: Mm(-3.0),
        })),
        fitting(FittingEdit::AddAlteration(Alteration::MoveCorner {
            edge: EdgeRef::new("front", "left"),
            right: Mm(3.0),
            up: Mm(-2.0),
        })),
        fitting(FittingEdit::AddAlteration(Alteration::LengthenAt {
            piece: "front".to_owned(),
            level: Level::Waist,
            by: Mm(5.0),
        })),
        fitting(FittingEdit::RemoveAlteration(0)),
        fitting(FittingEdit::SetPaper(PaperSettings::default())),
        fitting(FittingEdit::SetLayPlan(Some(LayPlan::default()))),
        fitting(FittingEdit::SetLayPlan(None)),
        fitting(FittingEdit::Tick("side".to_owned(), true)),
        fitting(FittingEdit::Tick("side".to_owned(), false)),
    ];
    let words: Vec<String> = edits
        .iter()
        .map(|edit| edit.words(LengthUnit::Millimetre))
        .collect();
    insta::assert_snapshot!(words.join("\n"), @r"
    call the project Sunday
    read in inches
    garment skirt
    take out garment skirt
    skirt: piece front
    body doll
    take out body doll
    fitting skirt on doll
    take out fitting skirt on doll
    outfit best
    take out outfit best
    stash scraps.ron
    no stash
    wardrobe dolls.ron
    no wardrobe
    put on doll
    waist girth 150 mm
    forget waist girth
    ease in proportion
    the same ease as on the source
    ease from the table
    front: follow the body
    front: keep directions
    front: shape as the program finds best
    waist: fitted, 88 mm, ease 4 mm, rank 2
    waist: as computed
    details follow the girth
    front: details follow the height
    front: details as everywhere
    flat lining of lawn
    no cloth for the interlining
    nothing worn underneath
    1 layer worn underneath
    2 layers worn underneath
    with shoes
    without shoes
    seam allowance 6.4 mm
    hem 4 mm
    front, left: allowance 3 mm
    front, left: usual allowance
    corners run out 2.5 times the allowance
    notches 3 mm
    front, left: 3 mm in
    front, left: corner 3 mm right, 2 mm down
    front: 5 mm longer at waist
    take out alteration 1
    paper A4 upright, margin 10 mm
    lay plan of 0 pieces
    no lay plan
    done: side
    not done: side
    ");
    let in_inches = on_skirt(FittingEdit::SetSeamAllowance(Mm(6.35)));
    assert_eq!(in_inches.words(LengthUnit::Inch), "seam allowance 1/4 in");
}
