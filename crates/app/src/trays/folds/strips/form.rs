//! What is asked of a strip, as a maker types it.

use egui::Ui;
use petitoile_core::fullness::{Fullness, KeepOff, Layout, Solved};
use petitoile_core::strips::{
    Ends, Hiding, LongEdge, Make, Size, Slant, Source, StripWanted, pleated_instead, pleats_wide,
};
use petitoile_core::{LengthUnit, Mm, units};

use super::super::numbers::said;
use super::super::place::Place;
use super::free;
use crate::command::Command;
use crate::fields::{Style, Typed, length_field, one_of, typed_field};
use crate::trays::{faded, heading};

/// How the long edges are made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Edges {
    /// One sewn on, the other hemmed.
    OneSewn,
    /// Both sewn on.
    BothSewn,
    /// Both hemmed.
    BothHemmed,
    /// Folded double.
    Double,
    /// As cut.
    Raw,
}

/// How a strip that is longer than its edge is drawn in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum By {
    /// Gathers.
    Gathers,
    /// Knife pleats that show about this wide.
    Pleats,
}

/// How the ends are made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum AtEnds {
    /// A ring.
    Ring,
    /// Both hemmed.
    Hemmed,
    /// Both sewn in.
    Sewn,
    /// As cut.
    Raw,
}

/// What is typed about a strip.
#[derive(Debug, Clone)]
pub struct StripForm {
    length: Mm,
    length_is_cut: bool,
    width: Mm,
    width_is_cut: bool,
    ratio: f64,
    by: By,
    visible: Mm,
    edges: Edges,
    seam: Mm,
    hem: Mm,
    turns: u8,
    ends: AtEnds,
    slant: Slant,
    allowance: Mm,
    shortest: Mm,
    keep_off: Vec<KeepOff>,
    hidden: bool,
    by_bits: bool,
    every: Mm,
    bits: String,
    /// Thickness of the cloth it is made of.
    pub thickness: Mm,
    /// Name of the piece that is made of it.
    pub name: String,
}

impl Default for StripForm {
    fn default() -> Self {
        Self {
            length: Mm(300.0),
            length_is_cut: false,
            width: Mm(30.0),
            width_is_cut: false,
            ratio: 2.0,
            by: By::Gathers,
            visible: Mm(10.0),
            edges: Edges::OneSewn,
            seam: Mm(6.0),
            hem: Mm(5.0),
            turns: 2,
            ends: AtEnds::Hemmed,
            slant: Slant::Straight,
            allowance: Mm(5.0),
            shortest: Mm(30.0),
            keep_off: vec![centre_front()],
            hidden: true,
            by_bits: false,
            every: Mm(450.0),
            bits: String::new(),
            thickness: petitoile_core::fullness::THIN_CLOTH,
            name: "ruffle".to_owned(),
        }
    }
}

/// What joins are kept off at first: the middle of the strip.
fn centre_front() -> KeepOff {
    KeepOff {
        what: "centre front".to_owned(),
        at: 0.5,
        by: Mm(10.0),
    }
}

impl StripForm {
    /// Takes over a finished length and a ratio.
    pub fn reckon(&mut self, finished: Mm, ratio: f64) {
        (self.length, self.length_is_cut, self.ratio) = (finished, false, ratio);
    }

    /// Takes over the sizes of a request.
    pub fn take(&mut self, wanted: &StripWanted) {
        let size = |size: Size| match size {
            Size::Finished(mm) => (mm, false),
            Size::Cut(mm) => (mm, true),
        };
        (self.length, self.length_is_cut) = size(wanted.length);
        (self.width, self.width_is_cut) = size(wanted.width);
        (self.ratio, self.allowance, self.shortest) =
            (wanted.ratio, wanted.allowance, wanted.shortest);
    }

    /// The request that is typed.
    pub fn wanted(&self) -> StripWanted {
        let size = |is_cut: bool, mm: Mm| {
            if is_cut {
                Size::Cut(mm)
            } else {
                Size::Finished(mm)
            }
        };
        let hem = LongEdge::Hem {
            width: self.hem,
            turns: self.turns,
        };
        let single = |upper, lower| Make::Single { upper, lower };
        let seam = LongEdge::Seam(self.seam);
        let mut wanted = StripWanted {
            make: match self.edges {
                Edges::OneSewn => single(seam, hem),
                Edges::BothSewn => single(seam, seam),
                Edges::BothHemmed => single(hem, hem),
                Edges::Double => Make::Double {
                    allowance: self.seam,
                },
                Edges::Raw => single(LongEdge::Raw, LongEdge::Raw),
            },
            ends: match self.ends {
                AtEnds::Ring => Ends::Ring,
                AtEnds::Hemmed => Ends::Open(hem),
                AtEnds::Sewn => Ends::Open(seam),
                AtEnds::Raw => Ends::Open(LongEdge::Raw),
            },
            ratio: self.ratio,
            slant: self.slant,
            allowance: self.allowance,
            shortest: self.shortest,
            keep_off: self.keep_off.clone(),
            ..StripWanted::new(
                size(self.length_is_cut, self.length),
                size(self.width_is_cut, self.width),
            )
        };
        wanted.hiding = self.hiding(&wanted);
        wanted
    }

    /// The pleats that draw the strip in; `None` where it is gathered, or not longer than its edge.
    pub fn pleats(&self, wanted: &StripWanted) -> Option<Solved> {
        let ratio = (self.by == By::Pleats && self.ratio > 1.0).then_some(self.ratio)?;
        let finished = wanted.lengths().1;
        let gathers = Fullness::Gathers { ratio };
        pleated_instead(gathers, &Layout::default(), finished, self.visible).ok()
    }

    fn hiding(&self, wanted: &StripWanted) -> Hiding {
        if !self.hidden || self.ratio <= 1.0 {
            return Hiding::Nowhere;
        }
        match self.pleats(wanted) {
            Some(pleats) => Hiding::UnderPleats(Box::new(pleats.folded)),
            None => Hiding::InGathers,
        }
    }

    /// Where the segments come from; why not, where the list cannot be read.
    pub fn source(&self, unit: LengthUnit) -> Result<Source, String> {
        if self.by_bits {
            bits(&self.bits, unit).map(Source::Bits)
        } else {
            Ok(Source::Every(self.every))
        }
    }

    /// All fields.
    pub fn ui(
        &mut self,
        ui: &mut Ui,
        place: Option<&Place<'_>>,
        unit: LengthUnit,
        commands: &mut Vec<Command>,
    ) {
        heading(ui, "The strip");
        let mut sizes = Sizes { unit, commands };
        let which = (&mut self.length, &mut self.length_is_cut);
        sizes.said(ui, "Length of the strip", which);
        if let Some(place) = place {
            let whole = Mm(place.length.0 * place.piece.times_round());
            let words = format!("As long as {}, {}", place.edge, unit.show(whole));
            if ui
                .button(words)
                .on_hover_text("All copies round the body")
                .clicked()
            {
                (self.length, self.length_is_cut) = (whole, false);
            }
        }
        let which = (&mut self.width, &mut self.width_is_cut);
        sizes.said(ui, "Width of the strip", which);
        self.ratio(ui);
        self.by(ui, &mut sizes);
        self.edges(ui, &mut sizes);
        self.ends(ui);
        heading(ui, "Joins");
        self.joins(ui, &mut sizes);
        heading(ui, "Cloth for it");
        self.cloth(ui, &mut sizes);
    }

    fn ratio(&mut self, ui: &mut Ui) {
        ui.horizontal(|ui| {
            let style = Style {
                width: 84.0,
                computed: false,
            };
            let read = |text: &str| {
                let number = text
                    .trim()
                    .trim_end_matches("times")
                    .trim()
                    .replace(',', ".");
                number
                    .parse::<f64>()
                    .ok()
                    .filter(|r| (1.0..=20.0).contains(r))
            };
            let shown = format!("{:.2} times", self.ratio);
            let reads = |text: &str| read(text).is_some();
            if let Some(text) = typed_field(ui, "Fullness of the strip", &shown, style, reads) {
                self.ratio = read(&text).unwrap_or(self.ratio);
            }
            ui.label("as long as it is sewn");
        });
    }

    /// Gathers or knife pleats, for the same cloth.
    fn by(&mut self, ui: &mut Ui, sizes: &mut Sizes<'_>) {
        if self.ratio <= 1.0 {
            return;
        }
        ui.horizontal_wrapped(|ui| {
            ui.label("Drawn in by");
            let asked = one_of(
                ui,
                "Drawn in by",
                self.by,
                &[By::Gathers, By::Pleats],
                |by| match by {
                    By::Gathers => "gathers",
                    By::Pleats => "knife pleats",
                },
            );
            self.by = asked.unwrap_or(self.by);
        });
        if self.by == By::Pleats {
            sizes.row(ui, "Visible width of a pleat", &mut self.visible);
            let words = match self.pleats(&self.wanted()) {
                Some(pleats) => said(&pleats, sizes.unit),
                None => "these pleats cannot be folded; it is gathered".to_owned(),
            };
            faded(ui, words);
            self.wide_enough(ui, sizes.unit);
        }
    }

    /// Says when pleats are too narrow to be pressed in this cloth, with one click to mend it.
    fn wide_enough(&mut self, ui: &mut Ui, unit: LengthUnit) {
        let wide = pleats_wide(self.ratio, self.thickness);
        if wide.0 <= self.visible.0 + 0.05 {
            return;
        }
        let shown = unit.show_chosen(wide);
        faded(
            ui,
            format!(
                "Too shallow to press in cloth {} thick; from {shown} on they are six layers deep.",
                unit.show(self.thickness)
            ),
        );
        if ui.button(format!("Take pleats of {shown}")).clicked() {
            self.visible = wide;
        }
    }

    fn edges(&mut self, ui: &mut Ui, sizes: &mut Sizes<'_>) {
        ui.horizontal_wrapped(|ui| {
            let all = [
                Edges::OneSewn,
                Edges::BothSewn,
                Edges::BothHemmed,
                Edges::Double,
                Edges::Raw,
            ];
            let asked = one_of(ui, "Long edges", self.edges, &all, |edges| match edges {
                Edges::OneSewn => "one sewn on, one hemmed",
                Edges::BothSewn => "both sewn on",
                Edges::BothHemmed => "both hemmed",
                Edges::Double => "folded double",
                Edges::Raw => "as cut",
            });
            self.edges = asked.unwrap_or(self.edges);
        });
        let sewn = matches!(self.edges, Edges::OneSewn | Edges::BothSewn | Edges::Double);
        let hemmed = matches!(self.edges, Edges::OneSewn | Edges::BothHemmed);
        if sewn || self.ends == AtEnds::Sewn {
            sizes.row(ui, "Allowance where it is sewn on", &mut self.seam);
        }
        if hemmed || self.ends == AtEnds::Hemmed {
            ui.horizontal_wrapped(|ui| {
                sizes.field(ui, "Hem of the strip", &mut self.hem);
                ui.label("hem, turned");
                let asked = one_of(ui, "Hem turned", self.turns, &[1, 2], |turns| {
                    if turns == 1 { "once" } else { "twice" }
                });
                self.turns = asked.unwrap_or(self.turns);
            });
        }
    }

    fn ends(&mut self, ui: &mut Ui) {
        ui.horizontal_wrapped(|ui| {
            ui.label("Ends");
            let all = [AtEnds::Hemmed, AtEnds::Sewn, AtEnds::Ring, AtEnds::Raw];
            let asked = one_of(ui, "Ends", self.ends, &all, |ends| match ends {
                AtEnds::Ring => "a ring",
                AtEnds::Hemmed => "hemmed",
                AtEnds::Sewn => "sewn in",
                AtEnds::Raw => "as cut",
            });
            self.ends = asked.unwrap_or(self.ends);
        });
    }

    fn joins(&mut self, ui: &mut Ui, sizes: &mut Sizes<'_>) {
        ui.horizontal_wrapped(|ui| {
            let all = [Slant::Straight, Slant::Bias];
            let asked = one_of(ui, "Joins", self.slant, &all, |slant| match slant {
                Slant::Straight => "straight",
                Slant::Bias => "slanting (bias)",
            });
            self.slant = asked.unwrap_or(self.slant);
        });
        sizes.row(ui, "Allowance at a join", &mut self.allowance);
        sizes.row(ui, "Shortest bit worth joining", &mut self.shortest);
        let finished = self.wanted().lengths().1;
        free::places(ui, &mut self.keep_off, finished, sizes);
        ui.checkbox(&mut self.hidden, "Hidden in gathers or under pleats");
    }

    fn cloth(&mut self, ui: &mut Ui, sizes: &mut Sizes<'_>) {
        ui.horizontal_wrapped(|ui| {
            let asked = one_of(ui, "Cloth", self.by_bits, &[false, true], |bits| {
                if bits {
                    "a list of bits"
                } else {
                    "cut across a cloth"
                }
            });
            self.by_bits = asked.unwrap_or(self.by_bits);
        });
        if !self.by_bits {
            sizes.row(ui, "Usable width of the cloth", &mut self.every);
            return;
        }
        let style = Style {
            width: ui.available_width() - 30.0,
            computed: false,
        };
        let unit = sizes.unit;
        let reads = |text: &str| bits(text, unit).is_ok();
        if let Some(text) = typed_field(ui, "Usable strip lengths", &self.bits, style, reads) {
            self.bits = text;
        }
        faded(ui, "Lengths with a semicolon between: 300; 250; 4 x 180");
    }
}

/// What a length field needs.
pub struct Sizes<'a> {
    pub unit: LengthUnit,
    commands: &'a mut Vec<Command>,
}

impl Sizes<'_> {
    /// A length, its name only read out.
    pub fn field(&mut self, ui: &mut Ui, name: &str, value: &mut Mm) {
        match length_field(ui, name, Some(*value), "", self.unit, 84.0).typed {
            Typed::Length(mm) => *value = mm,
            Typed::Trouble(why) => self.commands.push(Command::Say(format!("{name}: {why}"))),
            Typed::Nothing | Typed::Cleared => {}
        }
    }

    fn row(&mut self, ui: &mut Ui, name: &str, value: &mut Mm) {
        ui.horizontal(|ui| {
            self.field(ui, name, value);
            ui.label(name);
        });
    }

    /// A size that says whether it is finished or cut.
    fn said(&mut self, ui: &mut Ui, name: &str, (value, is_cut): (&mut Mm, &mut bool)) {
        ui.label(name);
        ui.horizontal_wrapped(|ui| {
            self.field(ui, name, value);
            let asked = one_of(ui, name, *is_cut, &[false, true], |cut| {
                if cut { "cut" } else { "finished" }
            });
            *is_cut = asked.unwrap_or(*is_cut);
        });
    }
}

/// Reads "300; 250 mm; 4 x 180": bits of cloth.
fn bits(text: &str, unit: LengthUnit) -> Result<Vec<Mm>, String> {
    let mut all = Vec::new();
    for part in text
        .split(';')
        .map(str::trim)
        .filter(|part| !part.is_empty())
    {
        let (times, length) = match part.split_once(['x', '\u{d7}']) {
            Some((times, length)) => (
                times
                    .trim()
                    .parse::<usize>()
                    .map_err(|_| format!("\u{201c}{part}\u{201d}: write it like 4 x 180"))?,
                length,
            ),
            None => (1, part),
        };
        let length = units::read_length(length, unit).map_err(|why| why.to_string())?;
        all.extend(std::iter::repeat_n(length, times.min(500)));
    }
    if all.is_empty() {
        return Err("Type the lengths of the bits you have.".to_owned());
    }
    Ok(all)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;

    #[test]
    fn a_list_of_bits_is_read_as_a_maker_writes_it() {
        let unit = LengthUnit::Millimetre;
        let read = bits("300; 2,5 cm; 3 x 180", unit).unwrap();
        assert_eq!(read, [300.0, 25.0, 180.0, 180.0, 180.0].map(Mm));
        assert!(bits("", unit).is_err());
        assert!(bits("many", unit).is_err());
    }
}
