//! The four garments of a Sunday on the quay.

use super::*;
use crate::adapt::adapt;
use crate::drafts::wardrobe::{Dolls, sunday_on_the_quay_project};
use crate::edit::Edit;
use crate::finding::Gravity;
use crate::pad::{Pad, PadMiddle};
use crate::project::Project;
use crate::seams::side_length;

fn woman() -> Arc<Body> {
    let figures = doll_of(&[
        (Measure::Height, 1628.0),
        (Measure::BustGirth, 919.2),
        (Measure::WaistGirth, 829.9),
        (Measure::HipGirth, 1009.2),
        (Measure::BackWaistLength, 421.9),
        (Measure::ShoulderWidth, 366.1),
        (Measure::UpperArmGirth, 298.9),
    ]);
    Arc::new(Body {
        name: "a woman".to_owned(),
        kind: BodyKind::Woman,
        ..figures
    })
}

fn quay() -> Project {
    let doll = |height: f64| {
        let mut body = doll_of(&[(Measure::Height, height)]);
        body.name = format!("{height} mm doll");
        Arc::new(body)
    };
    let dolls = Dolls {
        play_45: doll(457.0),
        play_36: doll(360.0),
        fashion_29: doll(290.0),
        jointed_60: doll(600.0),
        twelfth: doll(137.0),
    };
    sunday_on_the_quay_project(&woman(), &dolls).unwrap()
}

fn worn_in(project: &Project, outfit: &str) -> Together {
    let outfit = project.outfits.iter().find(|o| o.name == outfit).unwrap();
    Together::new(outfit, |name| {
        let adapted = adapt(project, name).map_err(|why| why.to_string())?;
        Ok(Arc::new(Worn::new(Arc::new(adapted))))
    })
}

const SUNDAY: &str = "Sunday on the quay";

fn said(project: &Project, fitting: &str) -> Vec<crate::finding::Finding> {
    let together = worn_in(project, SUNDAY);
    findings(
        &[together],
        fitting,
        &Machine::default(),
        LengthUnit::Millimetre,
    )
}

#[test]
fn covered_and_showing_are_the_whole_of_every_seam() {
    let project = quay();
    let together = worn_in(&project, SUNDAY);
    assert_eq!((together.layers.len(), together.left_out.len()), (4, 0));
    let mut hidden = 0;
    for (place, worn) in together.layers.iter().enumerate() {
        let made = &worn.adapted.made;
        let lines = cover(&together, place).unwrap().lines;
        for seam in &made.seams {
            let line = lines
                .iter()
                .find(|l| !l.is_hem && l.name == seam.name)
                .unwrap();
            assert!((line.covered + line.showing() - line.length).0.abs() < 1e-9);
            assert!((0.0..=line.length.0 + 1e-9).contains(&line.covered.0));
            let sides = [&seam.a, &seam.b].map(|side| side_length(side, &made.pieces).unwrap().0);
            assert!(
                sides.iter().any(|side| (side - line.length.0).abs() < 1e-6),
                "{}",
                seam.name
            );
            hidden += usize::from(line.is_hidden());
        }
    }
    assert!(
        hidden > 5,
        "the smock lies under skirt and jacket: {hidden}"
    );
    let outermost = cover(&together, 3).unwrap();
    let shell = |line: &&Line| !line.is_hem && line.name == "shoulder";
    assert!(outermost.lines.iter().find(shell).unwrap().covered.0 == 0.0);
}

#[test]
fn the_smock_lies_under_jacket_and_skirts_where_it_covers_them() {
    let project = quay();
    let together = worn_in(&project, SUNDAY);
    let jacket = underneath(&together, 3);
    let at = |measure| jacket.stacks.get(&measure).cloned().unwrap_or_default();
    let names = |measure| -> Vec<String> { at(measure).into_iter().map(|s| s.layer).collect() };
    assert_eq!(names(Measure::BustGirth), ["smock"]);
    assert_eq!(names(Measure::UpperArmGirth), ["smock"]);
    assert_eq!(
        names(Measure::WaistGirth),
        ["smock", "underskirt", "Sunday skirt"]
    );
    // The wool skirt at its waist: the panel and a band folded in two.
    let skirt = &at(Measure::WaistGirth)[2];
    assert!(
        (skirt.thickness.0 - 3.0 * 0.36).abs() < 1e-9,
        "{}",
        skirt.thickness.0
    );
    assert_eq!(jacket.pads.len(), 1);
    assert_eq!(
        underneath(&together, 0).pads,
        Vec::new(),
        "the roll lies over the smock"
    );
}

#[test]
fn fitting_a_garment_as_worn_gives_it_the_room_the_outfit_asks() {
    let mut project = quay();
    for fitting in ["underskirt", "Sunday skirt", "jacket"] {
        let found = said(&project, fitting);
        let care = found
            .iter()
            .find(|f| f.advice.starts_with("Fit it as worn in"))
            .unwrap_or_else(|| panic!("{fitting}: {found:#?}"));
        assert_eq!(care.gravity, Gravity::Care);
        let waist = |project: &Project| {
            let ease = adapt(project, fitting).unwrap().ease;
            ease.iter()
                .find(|row| row.measure == Measure::WaistGirth)
                .unwrap()
                .garment
                .1
                .0
        };
        let before = waist(&project);
        let stack = |project: &Project| {
            let fitting = project.fitting(fitting).unwrap();
            fitting.stack_underneath(Measure::WaistGirth).0
        };
        let (thin, edit) = (stack(&project), care.remedy.clone().unwrap());
        project = project.edited(&edit).unwrap();
        let grown = waist(&project) - before;
        let more = std::f64::consts::TAU * (stack(&project) - thin);
        assert!(more > 1.0, "{fitting}: {more}");
        assert!((grown - more).abs() < 0.05, "{fitting}: {grown} for {more}");
        let again = said(&project, fitting);
        assert!(
            !again
                .iter()
                .any(|f| f.advice.starts_with("Fit it as worn in")),
            "{fitting}: {again:#?}"
        );
    }
}

#[test]
fn the_waist_of_a_gored_skirt_is_a_ring_from_the_centre_front_to_the_centre_back() {
    let together = worn_in(&quay(), SUNDAY);
    let ring = WaistRing::of(&together.layers[2]).unwrap();
    let pieces: Vec<&str> = ring.parts.iter().map(|p| p.edge.piece.as_str()).collect();
    assert_eq!(pieces, ["front", "side", "back"]);
    let ends: Vec<(f64, f64)> = ring.parts.iter().map(|p| (p.at_start, p.at_end)).collect();
    let low = ends.iter().map(|e| e.0.min(e.1)).fold(1.0, f64::min);
    let high = ends.iter().map(|e| e.0.max(e.1)).fold(0.0, f64::max);
    assert!(low.abs() < 1e-12 && (high - 1.0).abs() < 1e-12);
    let half_circle = WaistRing::of(&together.layers[1]).unwrap();
    assert_eq!(half_circle.parts.len(), 1);
    let only = &half_circle.parts[0];
    let piece = together.layers[1]
        .adapted
        .made
        .piece(&only.edge.piece)
        .unwrap();
    let start = piece.outline.edge("waist").unwrap().line.start();
    let front = piece.outline.edge("centre front").unwrap();
    let meets = (front.line.start() - start)
        .hypot()
        .min((front.line.end() - start).hypot());
    assert_eq!(only.at_start, if meets < 0.01 { 0.0 } else { 1.0 });
    assert!(
        WaistRing::of(&together.layers[0]).is_none(),
        "the smock does not hang from the waist"
    );
}

/// The fact of the issue on real skirts: 25 mm at 30 mm below the waist, 9.05 mm, behind only, the hem as it was.
#[test]
fn a_skirt_levelled_over_a_bustle_is_9_05_mm_longer_at_the_centre_back_and_its_hem_is_as_it_was() {
    let mut project = quay();
    let mut outfit = project.outfits[0].clone();
    outfit.pads[0].pad = Pad {
        name: "bustle".to_owned(),
        projection: Mm(25.0),
        below_waist: Mm(30.0),
        share: 0.4,
        middle: PadMiddle::Back,
    };
    project = project.edited(&Edit::PutOutfit(outfit)).unwrap();
    for (fitting, back, piece) in [
        ("Sunday skirt", "back", "back"),
        ("underskirt", "quarter", "quarter"),
    ] {
        let length = |project: &Project, piece: &str, edge: &str| {
            let made = adapt(project, fitting).unwrap().made;
            made.piece(piece)
                .unwrap()
                .outline
                .edge(edge)
                .unwrap()
                .line
                .length()
        };
        let found = said(&project, fitting);
        let level = found
            .iter()
            .find(|f| f.advice.starts_with("Raise the waist edge"))
            .unwrap_or_else(|| panic!("{fitting}: {found:#?}"));
        assert!(level.what.contains("9.1 mm"), "{}", level.what);
        let next = project.edited(&level.remedy.clone().unwrap()).unwrap();
        let grown =
            |piece: &str, edge: &str| length(&next, piece, edge) - length(&project, piece, edge);
        assert!(
            (grown(back, "centre back") - 9.051).abs() < 0.02,
            "{}",
            grown(back, "centre back")
        );
        let front = if fitting == "underskirt" {
            "quarter"
        } else {
            "front"
        };
        assert!(grown(front, "centre front").abs() < 1e-6);
        assert!(grown(piece, "hem").abs() < 1e-6);
        assert!(
            !said(&next, fitting)
                .iter()
                .any(|f| f.advice.starts_with("Raise the waist edge")),
            "{fitting}"
        );
    }
}

#[test]
fn levelled_seams_still_fit() {
    let project = quay();
    let together = worn_in(&project, SUNDAY);
    let pads: Vec<Pad> = together.pads.iter().map(|worn| worn.pad.clone()).collect();
    let level = levelled(&together.layers[2], &pads).unwrap();
    let next = project
        .edited(&level.edit(project.fitting("Sunday skirt").unwrap()))
        .unwrap();
    let made = adapt(&next, "Sunday skirt").unwrap().made;
    for name in ["front seam", "back seam"] {
        let seam = made.seams.iter().find(|s| s.name == name).unwrap();
        let off = seam.difference(&made.pieces).unwrap().0;
        assert!(off.abs() < 0.05, "{name}: {off}");
    }
}

#[test]
fn garments_of_one_outfit_on_two_bodies_are_said_with_the_body_to_take() {
    let mut project = quay();
    let other = Arc::new(doll_of(&[(Measure::Height, 480.0)]));
    let edit = Edit::Fitting {
        fitting: "jacket".to_owned(),
        change: crate::edit::FittingEdit::SetBody(other),
    };
    project = project.edited(&edit).unwrap();
    let found = said(&project, "jacket");
    let body = found
        .iter()
        .find(|f| f.advice.starts_with("Put both on the same body"))
        .unwrap();
    let next = project.edited(&body.remedy.clone().unwrap()).unwrap();
    assert_eq!(
        next.fitting("jacket").unwrap().body,
        next.fitting("smock").unwrap().body
    );
}

#[test]
fn a_fitting_as_worn_follows_when_its_outfit_gets_another_name() {
    let mut project = quay();
    let together = worn_in(&project, SUNDAY);
    let edit = underneath(&together, 3).as_worn(SUNDAY, "jacket");
    project = project.edited(&edit).unwrap();
    let rename = |name: &str| Edit::RenameOutfit {
        outfit: SUNDAY.to_owned(),
        name: name.to_owned(),
    };
    let taken = project.outfits[1].name.clone();
    assert!(project.edited(&rename(&taken)).is_err());
    assert!(project.edited(&rename(" ")).is_err());
    let next = project.edited(&rename("Regatta")).unwrap();
    let worn = next.fitting("jacket").unwrap().as_worn.clone().unwrap();
    assert_eq!(
        (worn.outfit.as_str(), next.outfits[0].name.as_str()),
        ("Regatta", "Regatta")
    );
    let layers = [Mm(0.3)].to_vec();
    let by_hand = Edit::Fitting {
        fitting: "jacket".to_owned(),
        change: crate::edit::FittingEdit::SetWornUnderneath(layers),
    };
    let next = next.edited(&by_hand).unwrap();
    assert_eq!(
        next.fitting("jacket").unwrap().as_worn,
        None,
        "her own figures take over"
    );
}

#[test]
fn a_neckband_that_stands_above_the_jacket_shows_and_the_seams_under_it_do_not() {
    let together = worn_in(&quay(), SUNDAY);
    let smock = cover(&together, 0).unwrap();
    let neck = |half| {
        let peep = |p: &&Peep| p.end.kind == EndKind::Neckline && p.end.half == half;
        smock.peeps.iter().find(peep).unwrap().by.0
    };
    assert!(neck(Half::Front) > 0.0 && neck(Half::Back) > 0.0);
    let line = |name: &str| smock.lines.iter().find(|l| l.name == name).unwrap();
    assert!(
        !line("neckband end").is_hidden(),
        "its ends stand above the jacket"
    );
    assert!(line("back yoke seam").is_hidden());
    assert!(line("front body, hem").is_hidden());
}

#[test]
fn a_wardrobe_keeps_every_outfit_of_a_doll_once() {
    let project = quay();
    let doll = project.fittings[0].body.clone();
    let empty = crate::outfit::Wardrobe::default();
    let kept = empty
        .with(&doll, "quay.petitoile", &project.outfits[0])
        .with(&doll, "quay.petitoile", &project.outfits[1])
        .with(&doll, "quay.petitoile", &project.outfits[0]);
    assert_eq!((kept.dolls.len(), kept.outfits.len()), (1, 2));
    assert_eq!(kept.of_doll(&doll.name).count(), 2);
    assert_eq!(kept.of_doll("another doll").count(), 0);
    let fewer = kept.without(0);
    assert_eq!(fewer.outfits[0].outfit.name, project.outfits[1].name);
    assert_eq!(fewer.without(7), fewer);
}
