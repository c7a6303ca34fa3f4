//! The seams in a list: how long their sides are against each other, where the ease lies; renamed, set, unpicked.

use egui::Ui;
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, SeamChange};
use petitoile_core::laying::added_seams;
use petitoile_core::seams::{Relation, Seam, SeamKind, side_length};
use petitoile_core::walk::Walk;

use crate::chalk::ask::alter;
use crate::chalk::brush::Brush;
use crate::chalk::hand::Hand;
use crate::chalk::on_edge::OnEdge;
use crate::chalk::tool::{Gesture, Group, Tool};
use crate::chalk::which_seam::{
    InHand, KINDS, fit_words, kind_words, paint_side, relation_words, side_words,
};
use crate::command::Command;
use crate::fields::{Typed, difference_field, name_field, one_of, pick};
use crate::wording;

/// The list of seams.
#[derive(Default)]
pub struct SeamList {
    seam: InHand,
}

impl Tool for SeamList {
    fn name(&self) -> &'static str {
        "Seam list"
    }

    fn tip(&self) -> &'static str {
        "All seams: length difference, where the ease lies; rename, set, unpick"
    }

    fn group(&self) -> Group {
        Group::Seams
    }

    fn snaps(&self) -> bool {
        false
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        match hand.pointer.as_ref().and_then(OnEdge::under) {
            Some(place) => format!("Click: the seam of {}", place.name()),
            None => "Click an edge to see what it is sewn to".to_owned(),
        }
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        match gesture {
            Gesture::Click(at) => self.seam.click(hand, &at, commands),
            Gesture::Delete => {
                if let Some(seam) = self.seam.seam(hand) {
                    unpick(seam, hand, commands);
                }
            }
            _ => {}
        }
    }

    fn cancel(&mut self, _commands: &mut Vec<Command>) -> bool {
        self.seam.let_go()
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        let Some(garment) = hand.garment else {
            return;
        };
        let in_hand = self.seam.seam(hand).map(|seam| seam.name.clone());
        if garment.seams.is_empty() {
            ui.label("Nothing is sewn yet.");
        }
        for seam in &garment.seams {
            let is_it = in_hand.as_deref() == Some(seam.name.as_str());
            let words = format!("{}: {}", seam.name, fit_words(seam, hand));
            let row = egui::Button::selectable(is_it, words)
                .truncate()
                .min_size(egui::vec2(ui.available_width(), 26.0));
            if ui.add(row).on_hover_text(sewn_words(seam)).clicked() {
                self.seam.take(seam, commands);
            }
            if is_it {
                ui.indent(&seam.name, |ui| self.one(ui, hand, seam, commands));
            }
        }
        added(ui, hand);
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        if let Some(seam) = self.seam.seam(hand) {
            paint_side(&seam.a, hand, brush);
            paint_side(&seam.b, hand, brush);
        }
    }
}

/// Seams that the lay plan adds to the fitting under the hand: they are changed on the Cloth tray.
fn added(ui: &mut Ui, hand: &Hand<'_>) {
    let Some(worked) = hand.session.work.done.as_ref() else {
        return;
    };
    let Some(plan) = &worked.adapted.fitting.lay_plan else {
        return;
    };
    let seams: Vec<String> = worked
        .finished
        .pieces
        .iter()
        .flat_map(|piece| added_seams(piece, plan))
        .map(|seam| seam.words(hand.unit))
        .collect();
    if seams.is_empty() {
        return;
    }
    ui.add_space(4.0);
    ui.label("Added by the lay plan (Cloth tray)");
    for words in seams {
        ui.add(egui::Label::new(words).wrap());
    }
}

fn sewn_words(seam: &Seam) -> String {
    format!("{} to {}", side_words(&seam.a), side_words(&seam.b))
}

fn unpick(seam: &Seam, hand: &Hand<'_>, commands: &mut Vec<Command>) {
    let seam = seam.name.clone();
    alter(
        hand,
        Alteration::Seam(SeamChange::Unpick { seam }),
        commands,
    );
}

impl SeamList {
    fn one(&mut self, ui: &mut Ui, hand: &Hand<'_>, seam: &Seam, commands: &mut Vec<Command>) {
        let mut ask = |change| alter(hand, Alteration::Seam(change), commands);
        ui.label(sewn_words(seam));
        if let Some(lengths) = lengths(seam, hand) {
            ui.label(lengths);
        }
        for line in ease_words(seam, hand) {
            ui.label(line);
        }
        ui.horizontal(|ui| {
            ui.label("Name");
            if let Some(name) = name_field(ui, "Name of the seam", &seam.name)
                && ask(SeamChange::Rename {
                    seam: seam.name.clone(),
                    name: name.clone(),
                })
            {
                self.seam.renamed(&name);
            }
        });
        if let Some(relation) = relation_fields(ui, hand, seam.relation) {
            ask(SeamChange::SetRelation {
                seam: seam.name.clone(),
                relation,
            });
        }
        ui.horizontal(|ui| {
            ui.label("Sewn as");
            let words = |kind: &SeamKind| kind_words(*kind).to_owned();
            let name = "Kind of seam";
            if let Some(kind) = pick(ui, &seam.name, name, &seam.kind, &KINDS, words) {
                ask(SeamChange::SetKind {
                    seam: seam.name.clone(),
                    kind,
                });
            }
        });
        if ui.button("Unpick this seam").clicked() {
            unpick(seam, hand, commands);
        }
    }
}

/// "First side 104 mm, second 100 mm, eased by 4 mm".
fn lengths(seam: &Seam, hand: &Hand<'_>) -> Option<String> {
    let pieces = &hand.garment?.pieces;
    let show = |side| Some(wording::length(side_length(side, pieces).ok()?, hand.unit));
    Some(format!(
        "First side {}, second {}, {}",
        show(&seam.a)?,
        show(&seam.b)?,
        relation_words(seam.relation, hand)
    ))
}

/// Where one side is longer: from which place to which, by how much.
fn ease_words(seam: &Seam, hand: &Hand<'_>) -> Vec<String> {
    let Some(walk) = hand
        .garment
        .and_then(|garment| Walk::new(seam, &garment.pieces).ok())
    else {
        return Vec::new();
    };
    let show = |mm| wording::length(mm, hand.unit);
    let eased = walk.sections.iter().filter(|section| section.has_ease());
    eased
        .map(|section| {
            let by = section.difference();
            let side = if by.0 > 0.0 { "first" } else { "second" };
            format!(
                "Ease: the {side} side is {} longer from {} to {}",
                show(Mm(by.0.abs())),
                show(section.a.0),
                show(section.a.1)
            )
        })
        .collect()
}

/// Equal, eased, gathered, and by how much. Gives the relation that was asked for.
pub fn relation_fields(ui: &mut Ui, hand: &Hand<'_>, now: Relation) -> Option<Relation> {
    #[derive(Clone, Copy, PartialEq)]
    enum Sort {
        Equal,
        Eased,
        Gathered,
    }
    let sort = match now {
        Relation::Equal => Sort::Equal,
        Relation::Eased(_) => Sort::Eased,
        Relation::Ratio(_) => Sort::Gathered,
    };
    let words = |sort| match sort {
        Sort::Equal => "equal",
        Sort::Eased => "eased",
        Sort::Gathered => "gathered",
    };
    let mut asked = None;
    ui.horizontal_wrapped(|ui| {
        let sorts = [Sort::Equal, Sort::Eased, Sort::Gathered];
        if let Some(sort) = one_of(ui, "First side", sort, &sorts, words) {
            asked = Some(match sort {
                Sort::Equal => Relation::Equal,
                Sort::Eased => Relation::Eased(Mm(0.0)),
                // Common practice for gathers, no source.
                Sort::Gathered => Relation::Ratio(2.0),
            });
        }
        match now {
            Relation::Equal => {}
            Relation::Eased(by) => {
                ui.label("by");
                let field = difference_field(ui, "Eased by", Some(by), "", hand.unit, 70.0);
                if let Typed::Length(by) = field.typed {
                    asked = Some(Relation::Eased(by));
                }
            }
            Relation::Ratio(mut ratio) => {
                let field = egui::DragValue::new(&mut ratio)
                    .range(0.1..=10.0)
                    .speed(0.01)
                    .fixed_decimals(2)
                    .update_while_editing(false);
                if ui.add(field).accessible_name("Gathered, times").changed() {
                    asked = Some(Relation::Ratio(ratio));
                }
                ui.label("to 1");
            }
        }
    });
    asked
}
