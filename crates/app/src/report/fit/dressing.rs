//! Does it go on: openings, closures, ties, sleeves over sleeves, the hem, as `petitoile fit` tells it.

use petitoile_core::closure::Closure;
use petitoile_core::dressing::{
    ArmRoom, CaughtTie, Dressing, HeadDress, HemRoom, Missing, Need, Passage, Tied, Way,
};
use petitoile_core::edge::EdgeRef;
use petitoile_core::project::Project;
use petitoile_core::{LengthUnit, Mm};
use serde::Serialize;

use crate::report::signed;
use crate::report::table::Table;
use crate::whole_way::Worked;

/// Does it go on: openings, closures, ties.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Section {
    /// The ways of putting it on, the usual one first.
    pub ways: Vec<WayRow>,
    /// Every opening.
    pub openings: Vec<OpeningRow>,
    /// Closed holes that no opening is named for.
    pub missing: Vec<MissingRow>,
    /// Pieces that are wrapped and tied.
    pub ties: Vec<TieRow>,
    /// Ties caught in seams.
    pub caught_ties: Vec<CaughtRow>,
    /// Room in the sleeves.
    pub sleeves: Vec<SleeveRow>,
    /// The hem over the floor, where it comes near.
    pub hem: Option<HemRow>,
}

/// A way of putting it on.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WayRow {
    /// "over the head", "feet first".
    pub way: &'static str,
    /// Does everything pass, with the wig?
    pub goes_on: bool,
    /// The same without it.
    pub goes_on_without_wig: bool,
}

/// An opening.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OpeningRow {
    /// Name of the opening.
    pub name: String,
    /// Girth of the hole as it is worn.
    pub worn: Mm,
    /// Girth of the hole while it is put on, slit closed.
    pub hole: Mm,
    /// Length of the slit.
    pub slit: Mm,
    /// `hole + 2 slit`.
    pub opens: Mm,
    /// What has to pass.
    pub passing: Vec<PassingRow>,
    /// What closes it.
    pub closure: Option<ClosureRow>,
}

/// Something that has to pass.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PassingRow {
    /// What.
    pub part: &'static str,
    /// In which way; null in both.
    pub way: Option<&'static str>,
    /// Its girth.
    pub body: Mm,
    /// How much of that a soft torso gives.
    pub give: Mm,
    /// What cloth takes up.
    pub cloth: Mm,
    /// `body - give + cloth`.
    pub needs: Mm,
    /// `opens - needs`.
    pub margin: Mm,
    /// The slit that lets it pass.
    pub slit_needed: Mm,
    /// Does it pass?
    pub passes: bool,
}

/// What closes an opening.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ClosureRow {
    /// What the maker chose.
    pub chosen: Option<Closure>,
    /// What is used: chosen or suggested.
    pub used: Option<&'static str>,
    /// Overlap it needs.
    pub overlap_needed: Mm,
    /// Overlap there is.
    pub overlap: Mm,
    /// Where that comes from; empty when the sides meet edge to edge.
    pub overlap_from: String,
    /// What suits the size, best first.
    pub suited: Vec<SuitedRow>,
}

/// A closure that suits the size.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SuitedRow {
    /// What.
    pub closure: Closure,
    /// Overlap it needs.
    pub overlap: Mm,
    /// Is that there?
    pub fits: bool,
    /// How many.
    pub count: u32,
}

/// A closed hole that no opening is named for.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MissingRow {
    /// Name it could have.
    pub name: String,
    /// Edges of the hole.
    pub hole_edges: Vec<EdgeRef>,
    /// Edges open beside it.
    pub slit_edges: Vec<EdgeRef>,
    /// What it opens to.
    pub opens: Mm,
    /// What has to pass.
    pub part: &'static str,
    /// Girth of that.
    pub needs: Mm,
    /// `opens - needs`.
    pub margin: Mm,
    /// The slit that lets it pass.
    pub slit_needed: Mm,
}

/// A piece that is wrapped and tied.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TieRow {
    /// Name of the piece.
    pub piece: String,
    /// What it goes round.
    pub round: &'static str,
    /// Girth of that.
    pub girth: Mm,
    /// Its length.
    pub length: Mm,
    /// The longest it may be.
    pub most: Mm,
    /// Ways of tying it: words, length, long enough?
    pub ways: Vec<(&'static str, Mm, bool)>,
}

/// A tie caught in a seam, and how long it must be.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CaughtRow {
    /// The seam.
    pub seam: String,
    /// What it is called.
    pub name: String,
    /// Its width.
    pub width: Mm,
    /// Length beyond the seam for a bow.
    pub bow: Mm,
    /// The same for a knot.
    pub knot: Mm,
}

/// Room in a sleeve at one place.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SleeveRow {
    /// Where.
    pub place: &'static str,
    /// What is worn under it.
    pub under: Vec<String>,
    /// The bare arm.
    pub arm: Mm,
    /// The arm with that.
    pub dressed: Mm,
    /// What the sleeve's own cloth takes up.
    pub own_cloth: Mm,
    /// The sleeve.
    pub sleeve: Mm,
    /// `sleeve - dressed - own_cloth`.
    pub margin: Mm,
}

/// The hem over the floor; negative drags.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HemRow {
    /// The piece that hangs lowest.
    pub piece: String,
    /// Barefoot.
    pub barefoot: Mm,
    /// In shoes.
    pub in_shoes: Mm,
    /// How much shoes lift.
    pub shoes: Mm,
    /// Does the fitting wear shoes?
    pub wears_shoes: bool,
}

impl Section {
    /// Collects it.
    pub fn of(_project: &Project, worked: &Worked) -> Self {
        let dressing = &worked.beyond.dressing;
        Self {
            ways: dressing
                .ways
                .iter()
                .map(|way| way_row(dressing, *way))
                .collect(),
            openings: dressing.passages.iter().map(OpeningRow::from).collect(),
            missing: dressing.missing.iter().map(MissingRow::from).collect(),
            ties: dressing.tied.iter().map(TieRow::from).collect(),
            caught_ties: dressing.caught.iter().map(CaughtRow::from).collect(),
            sleeves: dressing.arms.iter().map(SleeveRow::from).collect(),
            hem: dressing.hem.as_ref().map(HemRow::from),
        }
    }

    /// For people, in the maker's unit; empty when there is nothing to tell.
    pub fn text(&self, unit: LengthUnit) -> String {
        let mut text = String::new();
        if !self.openings.is_empty() {
            text.push_str("Dressing:");
            for way in &self.ways {
                text.push_str(&format!(" {} {}.", way.way, way.verdict()));
            }
            text.push('\n');
        }
        text.push_str(&self.opening_text(unit));
        for row in &self.missing {
            text.push_str(&format!(
                "  No opening is named at the {}: it opens to {}, {} needs {}\n",
                row.name,
                unit.show(row.opens),
                row.part,
                unit.show(row.needs)
            ));
        }
        text.push_str(&self.sleeve_text(unit));
        for row in &self.ties {
            text.push_str(&row.text(unit));
        }
        for tie in &self.caught_ties {
            text.push_str(&format!(
                "{} in {}: {} long beyond the seam for a bow, {} for a knot\n",
                tie.name,
                tie.seam,
                unit.show(tie.bow),
                unit.show(tie.knot)
            ));
        }
        if let Some(hem) = &self.hem {
            text.push_str(&format!(
                "Hem over the floor: {} barefoot, {} in shoes of {}\n",
                unit.show(hem.barefoot),
                unit.show(hem.in_shoes),
                unit.show(hem.shoes)
            ));
        }
        text
    }

    fn opening_text(&self, unit: LengthUnit) -> String {
        let mut text = String::new();
        for row in &self.openings {
            let mut table = Table::new([
                row.name.as_str(),
                "needs",
                "opens to",
                "to spare",
                "slit needed",
                "",
            ]);
            for part in &row.passing {
                table.row([
                    part.part.to_lowercase(),
                    unit.show(part.needs),
                    unit.show(row.opens),
                    signed(part.margin, unit),
                    unit.show(part.slit_needed),
                    part.way.unwrap_or("").to_owned(),
                ]);
            }
            text.push_str(&table.text());
            if let Some(closure) = &row.closure {
                text.push_str(&closure.text(unit));
            }
        }
        text
    }

    fn sleeve_text(&self, unit: LengthUnit) -> String {
        if self.sleeves.is_empty() {
            return String::new();
        }
        let mut table = Table::new(["Sleeves", "arm", "dressed", "sleeve", "to spare", ""]);
        for row in &self.sleeves {
            table.row([
                row.place.to_lowercase(),
                unit.show(row.arm),
                unit.show(row.dressed),
                unit.show(row.sleeve),
                signed(row.margin, unit),
                row.under.join(", "),
            ]);
        }
        table.text()
    }
}

fn way_row(dressing: &Dressing, way: Way) -> WayRow {
    WayRow {
        way: way.words(),
        goes_on: dressing.goes_on(way, HeadDress::Wig),
        goes_on_without_wig: dressing.goes_on(way, HeadDress::Bare),
    }
}

impl WayRow {
    fn verdict(&self) -> &'static str {
        match (self.goes_on, self.goes_on_without_wig) {
            (true, _) => "it goes on",
            (false, true) => "it goes on without the wig",
            (false, false) => "it does not go on",
        }
    }
}

impl ClosureRow {
    fn text(&self, unit: LengthUnit) -> String {
        let Some(used) = self.used else {
            return String::new();
        };
        let who = if self.chosen.is_some() {
            "chosen"
        } else {
            "suggested"
        };
        let there = if self.overlap_from.is_empty() {
            "the sides meet edge to edge".to_owned()
        } else {
            format!("{} gives {}", self.overlap_from, unit.show(self.overlap))
        };
        format!(
            "    closed by {used} ({who}), overlap needed {}; {there}\n",
            unit.show(self.overlap_needed)
        )
    }
}

impl TieRow {
    fn text(&self, unit: LengthUnit) -> String {
        let mut text = format!(
            "{}: {} long, round {} of {}, {} at most\n",
            self.piece,
            unit.show(self.length),
            self.round,
            unit.show(self.girth),
            unit.show(self.most)
        );
        for (words, length, reaches) in &self.ways {
            let verdict = if *reaches { "long enough" } else { "too short" };
            text.push_str(&format!("  {words}: {}, {verdict}\n", unit.show(*length)));
        }
        text
    }
}

impl From<&Passage> for OpeningRow {
    fn from(passage: &Passage) -> Self {
        Self {
            name: passage.name.clone(),
            worn: passage.worn,
            hole: passage.hole,
            slit: passage.slit,
            opens: passage.open,
            passing: passage.needs.iter().map(PassingRow::from).collect(),
            closure: passage.closing.as_ref().map(|closing| ClosureRow {
                chosen: closing.chosen,
                used: closing.used().map(Closure::noun),
                overlap_needed: closing.used().map_or(Mm(0.0), Closure::overlap),
                overlap: closing.overlap,
                overlap_from: closing.from.clone(),
                suited: closing
                    .suited
                    .iter()
                    .map(|suited| SuitedRow {
                        closure: suited.closure,
                        overlap: suited.overlap,
                        fits: suited.fits,
                        count: suited.count,
                    })
                    .collect(),
            }),
        }
    }
}

impl From<&Need> for PassingRow {
    fn from(need: &Need) -> Self {
        Self {
            part: need.part.label(),
            way: need.way.map(Way::words),
            body: need.body,
            give: need.give,
            cloth: need.cloth,
            needs: need.girth,
            margin: need.margin,
            slit_needed: need.slit,
            passes: need.passes(),
        }
    }
}

impl From<&Missing> for MissingRow {
    fn from(missing: &Missing) -> Self {
        Self {
            name: missing.opening.name.clone(),
            hole_edges: missing.opening.hole.clone(),
            slit_edges: missing.opening.slit.clone(),
            opens: missing.size.open(),
            part: missing.part.words(),
            needs: missing.girth,
            margin: missing.margin,
            slit_needed: missing.slit,
        }
    }
}

impl From<&Tied> for TieRow {
    fn from(tied: &Tied) -> Self {
        let ways = tied.ways.iter();
        Self {
            piece: tied.piece.clone(),
            round: tied.round.words(),
            girth: tied.girth,
            length: tied.length,
            most: tied.most,
            ways: ways
                .map(|way| (way.words, way.length, way.reaches))
                .collect(),
        }
    }
}

impl From<&CaughtTie> for CaughtRow {
    fn from(tie: &CaughtTie) -> Self {
        Self {
            seam: tie.seam.clone(),
            name: tie.name.clone(),
            width: tie.width,
            bow: tie.bow,
            knot: tie.knot,
        }
    }
}

impl From<&ArmRoom> for SleeveRow {
    fn from(room: &ArmRoom) -> Self {
        Self {
            place: room.measure.label(),
            under: room.under.clone(),
            arm: room.arm,
            dressed: room.dressed,
            own_cloth: room.own,
            sleeve: room.sleeve,
            margin: room.margin,
        }
    }
}

impl From<&HemRoom> for HemRow {
    fn from(hem: &HemRoom) -> Self {
        Self {
            piece: hem.piece.clone(),
            barefoot: hem.barefoot,
            in_shoes: hem.in_shoes,
            shoes: hem.shoes,
            wears_shoes: hem.wears_shoes,
        }
    }
}
