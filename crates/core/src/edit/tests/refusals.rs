//! What is refused, and the words it is refused with.

use super::*;

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
                pads: Vec::new(),
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
            pads: Vec::new(),
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
        number: 0,
        part: 0,
        pinned: false,
        as_cut: None,
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
        FittingEdit::SetTorso(Torso::Soft { give: Mm(-1.0) }),
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
fn hand_work_of_no_sensible_size_or_name_is_refused_before_it_is_tried() {
    use crate::alteration::{DartChange, ShapeChange};
    use crate::edge::OutlinePoint;
    use crate::units::Degrees;

    let place = |fraction| OutlinePoint::new("hem", fraction);
    let changes = [
        ShapeChange::Turn {
            by: Degrees(f64::NAN),
        }
        .of("Front"),
        ShapeChange::Lengthen {
            from: place(0.2),
            to: place(1.7),
            by: Mm(3.0),
        }
        .of("Front"),
        ShapeChange::Widen {
            edge: "hem".to_owned(),
            at_start: Mm(1.0),
            at_end: Mm(-4000.0),
        }
        .of("Front"),
        ShapeChange::RenameEdge {
            edge: "hem".to_owned(),
            name: " ".to_owned(),
        }
        .of("Front"),
        DartChange::Divide {
            dart: "waist dart".to_owned(),
            into: 4000,
            apart: Mm(2.0),
        }
        .of("Front"),
    ];
    let said: Vec<String> = changes
        .iter()
        .map(|change| {
            super::super::alterations::sizes(change)
                .unwrap_err()
                .to_string()
        })
        .collect();
    insta::assert_snapshot!(said.join("\n"), @r"
    the turn of Front cannot be NaN; it must be between -360.00 and 360.00
    Front: a place on hem cannot be 1.70; it must be between 0.00 and 1.00
    how far Front, hem is moved cannot be -4000.00 mm; it must be between -3000.00 and 3000.00 mm
    an edge needs a name; type one
    Front: into how many waist dart is divided cannot be 4000.00; it must be between 2.00 and 20.00
    ");
}
