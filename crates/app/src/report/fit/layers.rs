//! What is worn under and over it, as `petitoile fit` tells it.

use petitoile_core::layers::{Cover, Peep, Room as CoreRoom};
use petitoile_core::measure::Measure;
use petitoile_core::pad::Pad as CorePad;
use petitoile_core::piece::Role;
use petitoile_core::project::Project;
use petitoile_core::{LengthUnit, Mm};
use serde::Serialize;

use crate::report::signed;
use crate::report::table::Table;
use crate::whole_way::Worked;
use crate::worn::WornIn;

/// What is worn under and over it: one entry for each outfit that wears it.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Section {
    /// The outfits, in the order of the project.
    pub outfits: Vec<InOutfit>,
}

/// The fitting in one outfit.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct InOutfit {
    /// Name of the outfit.
    pub outfit: String,
    /// Its layers, innermost first; those that cannot be worked out are left out.
    pub layers: Vec<String>,
    /// Is the fitting fitted as worn in it?
    pub fitted_as_worn: bool,
    /// Its girths over what is underneath.
    pub girths: Vec<Room>,
    /// Pads worn underneath.
    pub pads: Vec<Pad>,
    /// How much longer the way down becomes over the pads, where it is most.
    pub longer: Option<Mm>,
    /// How much of that the waist edge is raised.
    pub raised: Option<Mm>,
    /// Where layers end against those over them.
    pub ends: Vec<End>,
    /// Seams and hems of this fitting.
    pub seams: Vec<SeamSeen>,
}

/// One girth over what is underneath.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Room {
    /// Name of the tape line.
    pub name: String,
    /// Measure of the body it answers to.
    pub measure: Measure,
    /// The bare body.
    pub body: Mm,
    /// What each layer adds, innermost first.
    pub layers: Vec<Adds>,
    /// What pads add.
    pub pads: Mm,
    /// What the garment's own cloth takes up.
    pub own_cloth: Mm,
    /// The garment.
    pub garment: Mm,
    /// What is left.
    pub room: Mm,
}

/// What a layer adds to a girth.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Adds {
    /// Name of its fitting.
    pub layer: String,
    /// Mean thickness of all its cloth there.
    pub thickness: Mm,
    /// What it adds to the girth.
    pub adds: Mm,
}

/// A pad and how it is made.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Pad {
    /// Its name.
    pub name: String,
    /// How far it stands off.
    pub projection: Mm,
    /// How far below the waist.
    pub below_waist: Mm,
    /// Length of one along the body.
    pub length: Mm,
    /// Width of each of its pieces.
    pub width: Mm,
    /// Stuffing, ml.
    pub volume_ml: f64,
    /// Seam.
    pub seam: Mm,
    /// Loft of wadding that can still be quilted by machine (common practice, no source).
    pub quiltable: Mm,
}

/// An end of a layer against the layer over it that reaches farthest.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct End {
    /// The layer.
    pub layer: String,
    /// "neckline", "wrist" or "hem".
    pub end: &'static str,
    /// "in front", "behind" or empty.
    pub half: &'static str,
    /// The layer over it.
    pub over: String,
    /// By how much it shows; below 0 it is covered by as much.
    pub shows: Mm,
}

/// A seam or hem with how much of it is covered.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SeamSeen {
    /// Its name.
    pub name: String,
    /// Is it a hem?
    pub hem: bool,
    /// Its length.
    pub length: Mm,
    /// How much of that lies under another layer.
    pub covered: Mm,
    /// All of it?
    pub hidden: bool,
}

impl Section {
    /// Collects it.
    pub fn of(project: &Project, worked: &Worked) -> Self {
        let outfits = worked.beyond.layers.iter();
        Self {
            outfits: outfits
                .map(|worn| in_outfit(project, worked, worn))
                .collect(),
        }
    }

    /// For people, in the maker's unit; empty when there is nothing to tell.
    pub fn text(&self, unit: LengthUnit) -> String {
        self.outfits
            .iter()
            .map(|outfit| outfit.text(unit))
            .collect()
    }
}

fn in_outfit(project: &Project, worked: &Worked, worn: &WornIn) -> InOutfit {
    let fitting = &worked.adapted.fitting;
    let own = worn.covers.iter().find(|cover| cover.layer == fitting.name);
    InOutfit {
        outfit: worn.together.outfit.clone(),
        layers: worn
            .together
            .layers
            .iter()
            .map(|layer| layer.name().to_owned())
            .collect(),
        fitted_as_worn: fitting
            .as_worn
            .as_ref()
            .is_some_and(|as_worn| as_worn.outfit == worn.together.outfit),
        girths: worn.rooms.iter().map(Room::from).collect(),
        pads: worn
            .under
            .pads
            .iter()
            .map(|pad| made(project, worked, pad))
            .collect(),
        longer: worn.levelled.as_ref().map(|level| level.most.1),
        raised: worn.levelled.as_ref().map(|level| level.raised),
        ends: worn
            .covers
            .iter()
            .flat_map(|cover| cover.peeps.iter().map(move |peep| end(cover, peep)))
            .collect(),
        seams: own
            .into_iter()
            .flat_map(|cover| &cover.lines)
            .map(|line| SeamSeen {
                name: line.name.clone(),
                hem: line.is_hem,
                length: line.length,
                covered: line.covered,
                hidden: line.is_hidden(),
            })
            .collect(),
    }
}

fn made(project: &Project, worked: &Worked, pad: &CorePad) -> Pad {
    let fitting = &worked.adapted.fitting;
    let cloth = fitting.cloths.get(&Role::Shell);
    let pattern = pad.pattern(
        fitting.body.mm(Measure::HipGirth),
        cloth.map_or(Mm(0.3), |cloth| cloth.thickness),
        &project.machine,
    );
    Pad {
        name: pad.name.clone(),
        projection: pad.projection,
        below_waist: pad.below_waist,
        length: pattern.length,
        width: pattern.width,
        volume_ml: pattern.volume_ml,
        seam: pattern.seam,
        quiltable: pattern.quiltable,
    }
}

fn end(cover: &Cover, peep: &Peep) -> End {
    End {
        layer: cover.layer.clone(),
        end: peep.end.kind.label(),
        half: peep.end.half.words(),
        over: peep.over.clone(),
        shows: peep.by,
    }
}

impl From<&CoreRoom> for Room {
    fn from(room: &CoreRoom) -> Self {
        Self {
            name: room.name.clone(),
            measure: room.measure,
            body: room.body,
            layers: room
                .layers
                .iter()
                .map(|layer| Adds {
                    layer: layer.stack.layer.clone(),
                    thickness: layer.stack.thickness,
                    adds: layer.adds,
                })
                .collect(),
            pads: room.pads,
            own_cloth: room.own,
            garment: room.garment,
            room: room.ease(),
        }
    }
}

impl InOutfit {
    fn text(&self, unit: LengthUnit) -> String {
        let mut text = format!("Worn in {}: {}\n", self.outfit, self.layers.join(", "));
        if self.fitted_as_worn {
            text += "It is fitted as worn there.\n";
        }
        let mut table = Table::new(["Layers", "body", "underneath", "garment", "room", ""]);
        for room in &self.girths {
            let adds: f64 = room.layers.iter().map(|layer| layer.adds.0).sum();
            table.row([
                room.name.clone(),
                unit.show(room.body),
                signed(Mm(adds + room.pads.0), unit),
                unit.show(room.garment),
                signed(room.room, unit),
                room.what(unit),
            ]);
        }
        text += &table.text();
        for pad in &self.pads {
            text += &format!(
                "{}: stands off {} at {} below the waist; {} long, cut {} wide, {:.1} ml of stuffing, {} of seam; quilted by machine up to {} of loft (common practice, no source)\n",
                pad.name,
                unit.show(pad.projection),
                unit.show(pad.below_waist),
                unit.show(pad.length),
                unit.show(pad.width),
                pad.volume_ml,
                unit.show(pad.seam),
                unit.show(pad.quiltable)
            );
        }
        if let (Some(longer), Some(raised)) = (self.longer, self.raised) {
            text += &format!(
                "Way down over the pads: {} longer at most; the waist edge is raised by {}\n",
                unit.show(longer),
                unit.show(raised)
            );
        }
        for end in &self.ends {
            text += &end.text(unit);
        }
        let hidden: Vec<&str> = self
            .seams
            .iter()
            .filter(|seam| seam.hidden)
            .map(|seam| seam.name.as_str())
            .collect();
        if !hidden.is_empty() {
            text += &format!(
                "Hidden, may be pieced or sewn by machine: {}\n",
                hidden.join("; ")
            );
        }
        text
    }
}

impl Room {
    /// "smock 1 mm, underskirt 3.1 mm, pads 12 mm".
    fn what(&self, unit: LengthUnit) -> String {
        let mut words: Vec<String> = self
            .layers
            .iter()
            .map(|layer| format!("{} {}", layer.layer, unit.show(layer.adds)))
            .collect();
        if self.pads.0 > 0.0 {
            words.push(format!("pads {}", unit.show(self.pads)));
        }
        words.join(", ")
    }
}

impl End {
    fn text(&self, unit: LengthUnit) -> String {
        let by = unit.show(Mm(self.shows.0.abs()));
        let place = format!("{}, {} {}", self.layer, self.end, self.half);
        let place = place.trim_end();
        if self.shows.0 > 0.0 {
            format!("{place}: shows {by} beyond {}\n", self.over)
        } else {
            format!("{place}: {by} under {}\n", self.over)
        }
    }
}
