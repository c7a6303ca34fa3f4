//! Changes to a fitting, and forgetting them.

use std::collections::BTreeMap;

use super::*;
use crate::allowance::AllowancePlan;
use crate::fitting::AsWorn;
use crate::pad::Pad;

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
fn a_torso_gives_or_does_not_and_its_figures_stay() {
    let project = project();
    let fitting = changed(&project, FittingEdit::SetTorso(Torso::Rigid));
    assert_eq!(fitting.body.torso, Torso::Rigid);
    assert_eq!(fitting.body.measures, project.fittings[0].body.measures);
    let soft = Torso::Soft { give: Mm(7.5) };
    assert_eq!(
        changed(&project, FittingEdit::SetTorso(soft)).body.torso,
        soft
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
        f.allowances = f.allowances.resized(&f.body, &bear);
        f.body = bear.clone();
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
    let as_worn = AsWorn {
        outfit: "Sunday".to_owned(),
        stacks: BTreeMap::from([(Measure::WaistGirth, Mm(1.2))]),
    };
    let roll = Pad {
        name: "roll".to_owned(),
        projection: Mm(12.0),
        below_waist: Mm(20.0),
        share: 0.5,
        middle: Default::default(),
    };
    let edit = FittingEdit::SetAsWorn(Some(as_worn.clone()), vec![roll.clone()]);
    check(edit, &|f| {
        f.as_worn = Some(as_worn.clone());
        f.pads_underneath = vec![roll.clone()];
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
    let both = vec![longer.clone(), corner.clone()];
    check(FittingEdit::AddAlterations(both.clone()), &|f| {
        f.alterations.extend(both.clone())
    });
}

#[test]
fn several_alterations_are_one_step_and_none_is_made_where_one_does_not_apply() {
    let longer = |piece: &str| Alteration::LengthenAt {
        piece: piece.to_owned(),
        level: Level::Waist,
        by: Mm(5.0),
    };
    let all =
        |pieces: &[&str]| FittingEdit::AddAlterations(pieces.iter().map(|p| longer(p)).collect());
    let unit = LengthUnit::Millimetre;
    assert_eq!(
        all(&["front", "front", "front"]).words(unit),
        "front: 5 mm longer at waist and 2 more"
    );
    assert_eq!(all(&["front"]).words(unit), "front: 5 mm longer at waist");
    let project = project();
    assert!(
        project
            .edited(&on_skirt(all(&["front", "nobody"])))
            .is_err()
    );
    assert!(
        project
            .fitting("skirt on doll")
            .unwrap()
            .alterations
            .is_empty()
    );
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
fn on_a_smaller_doll_the_suggested_widths_shrink_and_the_chosen_ones_stay() {
    let of_height = |mm: f64| {
        Arc::new(
            Body::new("doll", BodyKind::Doll).with(Measure::Height, Measured::own_tape(Mm(mm))),
        )
    };
    let project = project();
    let put = |body: Arc<Body>| FittingEdit::SetBody(body);
    let large = changed(&project, put(of_height(457.0)));
    let mut chosen = Fitting::clone(&large);
    chosen.allowances = AllowancePlan {
        hem: Mm(11.0),
        ..AllowancePlan::for_body(&large.body)
    };
    let small = of_height(145.0);
    let resized = chosen.allowances.resized(&chosen.body, &small);
    assert_eq!((resized.seam, resized.hem), (Mm(3.2), Mm(11.0)));
}
