//! The words of an undo step.

use super::*;

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
        Edit::TakeReady(Arc::new(skirt())),
        Edit::RemoveGarment("skirt".to_owned()),
        Edit::PutPiece {
            garment: "skirt".to_owned(),
            piece: Arc::new(rectangle("front", Finish::Raw)),
        },
        Edit::PutOpening {
            garment: "skirt".to_owned(),
            opening: skirt().openings[0].clone(),
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
            pads: Vec::new(),
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
        fitting(FittingEdit::SetTorso(Torso::Soft { give: Mm(5.0) })),
        fitting(FittingEdit::SetTorso(Torso::Rigid)),
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
    skirt made ready to adapt
    take out garment skirt
    skirt: piece front
    skirt: opening waist
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
    soft torso, gives 5 mm
    rigid torso
    seam allowance 6.35 mm
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
