//! What is put into a project, replaced and taken out.

use super::*;

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
        pads: Vec::new(),
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
fn a_garment_made_ready_takes_the_place_of_the_one_it_came_from() {
    let before = project();
    let mut ready = skirt();
    ready.openings.clear();
    let after = before
        .edited(&Edit::TakeReady(Arc::new(ready.clone())))
        .unwrap();
    assert_eq!(*after.garments[0], ready);
    assert_eq!(after.garments.len(), before.garments.len());
    assert_eq!(before, project(), "undo is keeping the one before");
    let stranger = Garment {
        name: "smock".to_owned(),
        ..ready
    };
    let refused = before.edited(&Edit::TakeReady(Arc::new(stranger)));
    assert_eq!(refused, Err(missing("garment", "smock")));
}

#[test]
fn an_opening_is_named_or_takes_the_place_of_its_namesake() {
    let put = |opening| Edit::PutOpening {
        garment: "skirt".to_owned(),
        opening,
    };
    let waist = project().garments[0].openings[0].clone();
    let wider = Opening {
        slit: Vec::new(),
        ..waist.clone()
    };
    let leg = Opening {
        name: "leg".to_owned(),
        ..waist.clone()
    };
    let after = project().edited(&put(wider.clone())).unwrap();
    assert_eq!(after.garments[0].openings, std::slice::from_ref(&wider));
    let after = after.edited(&put(leg.clone())).unwrap();
    assert_eq!(after.garments[0].openings, [wider, leg]);
    let nowhere = Opening {
        hole: vec![crate::edge::EdgeRef::new("front", "cape")],
        ..waist.clone()
    };
    assert!(refused(&put(nowhere)).contains("cape"));
    let unnamed = Opening {
        name: String::new(),
        ..waist
    };
    insta::assert_snapshot!(refused(&put(unnamed)), @"an opening needs a name; type one");
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
