//! How the pieces are sewn together, and the notches that bring them there.

use crate::drafts::wardrobe::needle::{RIGHT, WHOLE};
use crate::drafts::wardrobe::table::{Join, Table, bit};
use crate::notch::NotchKind;

pub(super) fn notches(t: &mut Table) {
    for (piece, edge, corner, share, kind) in [
        ("front", "armscye", "shoulder", 0.6, NotchKind::Single),
        ("sleeve", "cap front", "cap back", 0.6, NotchKind::Single),
        ("back", "armscye", "shoulder", 0.6, NotchKind::Double),
        ("sleeve", "cap back", "cap front", 0.6, NotchKind::Double),
        ("front", "side seam", "armscye", 0.5, NotchKind::Single),
        ("back", "side seam", "armscye", 0.5, NotchKind::Single),
        (
            "sleeve",
            "underarm front",
            "cap front",
            0.45,
            NotchKind::Single,
        ),
        (
            "sleeve",
            "underarm back",
            "cap back",
            0.45,
            NotchKind::Single,
        ),
    ] {
        t.notch(piece, edge, corner, share, kind);
    }
    // Half way along the front neckline, and where the collar meets it.
    let (front, back) = (
        t.edge_length("front", "neckline"),
        t.edge_length("back", "neckline"),
    );
    let share = (back + 0.5 * front) / (back + front).max(1.0);
    t.notch("front", "neckline", "shoulder", 0.5, NotchKind::Single);
    t.notch(
        "collar",
        "neckline",
        "centre back",
        share,
        NotchKind::Single,
    );
}

pub(super) fn seams(t: &mut Table) {
    let front = |edge, corner| bit("front", RIGHT, edge, corner);
    let back = |edge, corner| bit("back", WHOLE, edge, corner);
    let sleeve = |edge, corner| bit("sleeve", RIGHT, edge, corner);
    let cuff = |edge, corner| bit("cuff", RIGHT, edge, corner);
    let collar = |edge, corner| bit("collar", WHOLE, edge, corner);
    t.sew_both(
        "shoulder",
        &[front("shoulder", "neckline")],
        &[back("shoulder", "neckline")],
        Join::Equal,
    );
    t.sew_both(
        "side seam",
        &[front("side seam", "armscye")],
        &[back("side seam", "armscye")],
        Join::Equal,
    );
    t.sew_both(
        "sleeve into front armscye",
        &[sleeve("cap front", "cap back")],
        &[front("armscye", "shoulder")],
        Join::Eased,
    );
    t.sew_both(
        "sleeve into back armscye",
        &[sleeve("cap back", "cap front")],
        &[back("armscye", "shoulder")],
        Join::Eased,
    );
    t.sew_both(
        "underarm",
        &[sleeve("underarm front", "cap front")],
        &[sleeve("underarm back", "cap back")],
        Join::Equal,
    );
    t.sew_both(
        "cuff to sleeve",
        &[cuff("sleeve edge", "end back")],
        &[sleeve("hem", "underarm back")],
        Join::Equal,
    );
    t.sew_both(
        "cuff ends",
        &[cuff("end front", "sleeve edge")],
        &[cuff("end back", "sleeve edge")],
        Join::Equal,
    );
    let neckline = [
        back("neckline", "centre back"),
        front("neckline", "shoulder"),
    ];
    t.sew_both(
        "collar to neckline",
        &[collar("neckline", "centre back")],
        &neckline,
        Join::Equal,
    );
    t.bag_out("front edge", front("front edge", "neck extension"));
    t.bag_out("neck extension", front("neck extension", "front edge"));
    t.bag_out("cuff outer edge", cuff("outer edge", "end back"));
    t.bag_out("collar outer edge", collar("outer edge", "centre back"));
    t.bag_out("collar front end", collar("front end", "outer edge"));
}
