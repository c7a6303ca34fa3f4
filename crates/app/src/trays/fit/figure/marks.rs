//! The words beside the figure: one for each ring and hem, each a button that shows its place.

use egui::text::{LayoutJob, TextWrapping};
use egui::{Color32, FontId, Pos2, Rect, Role, Sense, Stroke, Ui, Vec2, WidgetInfo};
use petitoile_core::LengthUnit;
use petitoile_core::finding::Place;
use petitoile_core::fit::Sits;
use petitoile_core::fit::figure::{Figure, GarmentRing, Hem, Hoop, Limb, Taken};

use super::super::ease::sits_words;
use super::paint::colour;
use crate::theme::Palette;
use crate::wording;

/// A ring or hem with its words.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// What it is called.
    pub name: String,
    /// What the garment measures.
    pub measures: String,
    /// How that sits, in two words.
    pub short: String,
    /// How that sits, and how it was taken.
    pub sits: String,
    /// What colour it has.
    pub tone: Sits,
    /// The ring on the figure.
    pub hoop: Hoop,
    /// Where it is on the pieces.
    pub place: Place,
}

/// Height of one mark, points.
const TALL: f32 = 38.0;

/// Height of so many marks, points.
pub fn height(count: usize) -> f32 {
    TALL * count as f32 + 8.0
}

/// Of a pair of limbs only the wearer's left one, which the front view shows to the right.
fn once(limb: Limb) -> bool {
    !matches!(limb, Limb::RightArm | Limb::RightLeg)
}

/// The marks of a figure, from the top down.
pub fn marks(figure: &Figure, unit: LengthUnit) -> Vec<Mark> {
    let rings = figure.garment.rings.iter().filter(|ring| once(ring.limb));
    let hems = figure.garment.hems.iter().filter(|hem| once(hem.limb));
    let mut marks: Vec<Mark> = rings.map(|ring| of_ring(ring, unit)).collect();
    marks.extend(hems.map(|hem| of_hem(hem, unit)));
    marks.sort_by(|a, b| b.hoop.centre.y.total_cmp(&a.hoop.centre.y));
    marks
}

fn of_ring(ring: &GarmentRing, unit: LengthUnit) -> Mark {
    let share = if ring.body.0 > 0.0 {
        100.0 * ring.ease().0 / ring.body.0
    } else {
        0.0
    };
    let by_lines = match ring.taken {
        Taken::Tape => String::new(),
        Taken::BodyLines if 0.0 < ring.overlap.0 => {
            format!(" by body lines, {} of overlap off", unit.show(ring.overlap))
        }
        Taken::BodyLines => " by body lines".to_owned(),
    };
    Mark {
        name: ring.name.clone(),
        measures: format!(
            "{}, {}, {share:.0} %",
            unit.show_bare(ring.garment),
            wording::difference(ring.ease(), unit)
        ),
        short: sits_words(ring.sits, unit),
        sits: format!("{}{by_lines}", sits_words(ring.sits, unit)),
        tone: ring.sits,
        hoop: ring.hoop,
        place: ring.place.clone(),
    }
}

fn of_hem(hem: &Hem, unit: LengthUnit) -> Mark {
    Mark {
        name: match hem.limb {
            Limb::Head | Limb::Trunk => "hem",
            Limb::LeftArm | Limb::RightArm => "sleeve hem",
            Limb::LeftLeg | Limb::RightLeg => "leg hem",
        }
        .to_owned(),
        measures: format!(
            "{}, {} up",
            unit.show_bare(hem.girth),
            wording::length(hem.above_floor, unit)
        ),
        short: "hangs".to_owned(),
        sits: if hem.in_folds.0 > 0.0 {
            format!("{} of it in folds", wording::length(hem.in_folds, unit))
        } else {
            "hangs".to_owned()
        },
        tone: Sits::Hangs,
        hoop: hem.hoop,
        place: hem.place.clone(),
    }
}

/// Shows the marks beside the picture, each joined to its ring, and gives which were clicked.
pub fn beside(ui: &mut Ui, marks: &[Mark], rings: &[Pos2], room: Rect) -> Vec<bool> {
    let tops = spread(rings, room);
    marks
        .iter()
        .zip(rings)
        .zip(tops)
        .enumerate()
        .map(|(i, ((mark, ring), top))| {
            let place = Rect::from_min_size(
                Pos2::new(room.left(), top),
                Vec2::new(room.width(), TALL - 2.0),
            );
            one(ui, i, mark, *ring, place)
        })
        .collect()
}

/// Tops of the marks: as near to their rings as they can be, none over another, all in the room.
fn spread(rings: &[Pos2], room: Rect) -> Vec<f32> {
    let mut next = room.top();
    let mut tops: Vec<f32> = rings
        .iter()
        .map(|ring| {
            let top = (ring.y - 0.5 * TALL).max(next);
            next = top + TALL;
            top
        })
        .collect();
    let mut lowest = room.bottom();
    for top in tops.iter_mut().rev() {
        *top = top.min(lowest - TALL);
        lowest = *top;
    }
    tops
}

fn one(ui: &mut Ui, number: usize, mark: &Mark, ring: Pos2, place: Rect) -> bool {
    let palette = Palette::showing(ui);
    let id = ui.scope_id().with(("ring", number));
    let response = ui.interact(place, id, Sense::click());
    let label = format!("Ring {}: {}, {}", mark.name, mark.measures, mark.sits);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
    let painter = ui.painter();
    let busy = response.hovered() || response.has_focus();
    if busy {
        painter.rect_filled(place, 4.0, ui.visuals().widgets.hovered.bg_fill);
    }
    let tone = colour(mark.tone, palette);
    let start = Pos2::new(place.left() + 4.0, place.center().y);
    painter.line_segment(
        [ring, start],
        Stroke::new(if busy { 1.6 } else { 0.7 }, tone),
    );
    painter.circle_filled(ring, 2.5, tone);
    let bar = Rect::from_min_size(
        place.left_top() + Vec2::new(4.0, 5.0),
        Vec2::new(4.0, place.height() - 10.0),
    );
    painter.rect_filled(bar, 1.0, tone);
    let at = place.left_top() + Vec2::new(12.0, 4.0);
    let wide = place.right() - at.x;
    // What does not fit ends in dots; the tip and the label say all.
    let line = |words: String, down: f32, tone: Color32| {
        let mut job = LayoutJob::simple_singleline(words, FontId::proportional(12.0), tone);
        job.wrap = TextWrapping::truncate_at_width(wide);
        painter.galley(at + Vec2::new(0.0, down), painter.layout_job(job), tone);
    };
    line(format!("{}: {}", mark.name, mark.short), 0.0, palette.ink);
    line(mark.measures.clone(), 15.0, palette.faded);
    response
        .on_hover_text(format!("{}\n{}\n{}", mark.name, mark.measures, mark.sits))
        .clicked()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;

    #[test]
    fn marks_keep_their_order_and_never_lie_over_each_other() {
        let room = Rect::from_min_size(Pos2::ZERO, Vec2::new(100.0, 400.0));
        let rings: Vec<Pos2> = [10.0, 12.0, 200.0, 390.0, 395.0, 396.0]
            .iter()
            .map(|y| Pos2::new(0.0, *y))
            .collect();
        let tops = spread(&rings, room);
        assert!(tops.windows(2).all(|pair| pair[1] - pair[0] >= TALL - 1e-3));
        assert!(tops[0] >= 0.0 && tops[5] + TALL <= 400.0);
        assert!(
            (tops[2] - (200.0 - 0.5 * TALL)).abs() < 1e-3,
            "the free one lies at its ring"
        );
    }
}
