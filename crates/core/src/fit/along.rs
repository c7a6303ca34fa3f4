//! Girths along the body: height above the floor against body, dressed body and garment.

use super::figure::{Figure, Limb};
use crate::measure::Measure;
use crate::units::Mm;

/// The girths of one limb, from the top down; arms and legs once.
#[derive(Debug, Clone, PartialEq)]
pub struct AlongBody {
    /// Which limb: head and trunk are one.
    pub limb: Limb,
    /// Its girths.
    pub points: Vec<AlongPoint>,
}

/// The girths at one height.
#[derive(Debug, Clone, PartialEq)]
pub struct AlongPoint {
    /// Measure, tape line or hem.
    pub name: String,
    /// Above the floor; on an arm as it hangs.
    pub height: Mm,
    /// The bare body; none at a hem.
    pub body: Option<Mm>,
    /// The body with what is worn underneath; none at a hem.
    pub dressed: Option<Mm>,
    /// The garment, where it has a girth here.
    pub garment: Option<Mm>,
}

/// Girths against height for trunk, arm and leg.
pub fn along_body(figure: &Figure) -> Vec<AlongBody> {
    [Limb::Trunk, Limb::LeftArm, Limb::LeftLeg]
        .into_iter()
        .map(|limb| {
            let mut points = on_body(figure, limb);
            points.extend(on_hems(figure, limb));
            points.sort_by(|a, b| b.height.0.total_cmp(&a.height.0));
            AlongBody { limb, points }
        })
        .collect()
}

fn on_body(figure: &Figure, limb: Limb) -> Vec<AlongPoint> {
    let wanted = |ring: Limb| ring == limb || limb == Limb::Trunk && ring == Limb::Head;
    let bare = figure.body.rings.iter().filter(|ring| wanted(ring.limb));
    bare.filter_map(|ring| {
        let on = figure
            .garment
            .rings
            .iter()
            .find(|on| on.measure == ring.measure && on.limb == ring.limb);
        // A head counts only under a hat.
        if ring.limb == Limb::Head && on.is_none() {
            return None;
        }
        let body = ring.hoop.girth();
        Some(AlongPoint {
            name: on.map_or_else(|| name(ring.measure), |on| on.name.clone()),
            height: Mm(ring.hoop.centre.y),
            body: Some(body),
            dressed: Some(body + figure.table.underneath.adds(ring.measure)),
            garment: on.map(|on| on.garment),
        })
    })
    .collect()
}

fn name(measure: Measure) -> String {
    measure.label().to_lowercase()
}

fn on_hems(figure: &Figure, limb: Limb) -> Vec<AlongPoint> {
    let hems = figure.garment.hems.iter().filter(|hem| hem.limb == limb);
    hems.map(|hem| AlongPoint {
        name: "hem".to_owned(),
        height: hem.above_floor,
        body: None,
        dressed: None,
        garment: Some(hem.girth),
    })
    .collect()
}
