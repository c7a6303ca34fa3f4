//! How folds lie along their stretch: direction, groups, a plain panel, places they keep off, what is left over.

use egui::Ui;
use petitoile_core::fullness::{
    Fullness, FullnessOp, Groups, KeepOff, Kind, Layout, Leftover, Lies, PlainPanel, Rest, Rows,
};
use petitoile_core::{LengthUnit, Mm};

use super::form::Form;
use super::numbers::Came;
use super::place::Place;
use crate::command::Command;
use crate::fields::{Asked, Style, Typed, length_field, one_of, pick, typed_field};
use crate::trays::faded;
use crate::wording;

/// Everything about how a fullness lies.
pub fn lie(
    ui: &mut Ui,
    form: &mut Form,
    place: &Place<'_>,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) -> Came {
    let allowance = place.allowance;
    let before = (form.wanted.layout.clone(), form.wanted.leftover);
    let (mut layout, mut leftover) = before.clone();
    let kind = form.wanted.kind;
    if kind.is_counted() && kind != Kind::Cartridge {
        direction(ui, kind, &mut layout);
        left_over(ui, &mut layout, &mut leftover);
        let sizes = Sizes { unit, commands };
        lengths(ui, kind, &mut layout, sizes);
        groups(ui, &mut layout, Sizes { unit, commands });
        plain(ui, &mut layout, form.edge, Sizes { unit, commands });
        keep_off(ui, &mut layout, place, Sizes { unit, commands });
    }
    if matches!(
        kind,
        Kind::Gathers | Kind::Ease | Kind::Shirring | Kind::Cartridge
    ) {
        rows(ui, &mut layout, Sizes { unit, commands });
        told_rows(ui, form, &layout, (allowance, unit));
    }
    let mut came = Asked::Nothing;
    if (&layout, leftover) != (&before.0, before.1) {
        form.lay(|now, rest| (*now, *rest) = (layout, leftover));
        came = Asked::Done(());
    }
    if kind == Kind::Shirring && shirring(ui, form, Sizes { unit, commands }) {
        came = Asked::Done(());
    }
    came
}

/// What a length field needs.
struct Sizes<'a> {
    unit: LengthUnit,
    commands: &'a mut Vec<Command>,
}

impl Sizes<'_> {
    /// A length that may be left open.
    fn open(&mut self, ui: &mut Ui, name: &str, value: &mut Option<Mm>, hint: &str) {
        ui.horizontal(|ui| {
            let field = length_field(ui, name, *value, hint, self.unit, 84.0);
            ui.label(name);
            match field.typed {
                Typed::Length(mm) => *value = Some(mm),
                Typed::Cleared => *value = None,
                Typed::Trouble(why) => self.commands.push(Command::Say(format!("{name}: {why}"))),
                Typed::Nothing => {}
            }
        });
    }

    /// A length that is always there.
    fn length(&mut self, ui: &mut Ui, name: &str, value: &mut Mm) {
        let field = length_field(ui, name, Some(*value), "", self.unit, 84.0);
        match field.typed {
            Typed::Length(mm) => *value = mm,
            Typed::Trouble(why) => self.commands.push(Command::Say(format!("{name}: {why}"))),
            Typed::Nothing | Typed::Cleared => {}
        }
    }
}

fn direction(ui: &mut Ui, kind: Kind, layout: &mut Layout) {
    if kind != Kind::Knife && !kind.is_tuck() {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        ui.label("Lie");
        let all = [Lies::Left, Lies::Right, Lies::ToCentre, Lies::FromCentre];
        let asked = one_of(ui, "Lie", layout.lies, &all, |lies| match lies {
            Lies::Left => "to the left",
            Lies::Right => "to the right",
            Lies::ToCentre => "to the centre",
            Lies::FromCentre => "from the centre",
        });
        layout.lies = asked.unwrap_or(layout.lies);
    });
}

fn left_over(ui: &mut Ui, layout: &mut Layout, leftover: &mut Leftover) {
    let now = match leftover {
        Leftover::Spread => None,
        Leftover::Plain => Some(layout.rest),
    };
    ui.horizontal_wrapped(|ui| {
        ui.label("Left over");
        let all = [
            None,
            Some(Rest::Ends),
            Some(Rest::Start),
            Some(Rest::End),
            Some(Rest::Middle),
        ];
        let asked = one_of(ui, "Left over", now, &all, |rest| match rest {
            None => "spread",
            Some(Rest::Ends) => "at both ends",
            Some(Rest::Start) => "at the right end",
            Some(Rest::End) => "at the left end",
            Some(Rest::Middle) => "in the middle",
        });
        match asked {
            Some(Some(rest)) => (*leftover, layout.rest) = (Leftover::Plain, rest),
            Some(None) => {
                *leftover = Leftover::Spread;
                layout.spacing = None;
            }
            None => {}
        }
    });
}

fn lengths(ui: &mut Ui, kind: Kind, layout: &mut Layout, mut sizes: Sizes<'_>) {
    sizes.open(
        ui,
        "First and last from the ends",
        &mut layout.margin,
        "even",
    );
    if !kind.is_tuck() {
        sizes.open(ui, "Stitched down", &mut layout.sewn_down, "not");
    }
}

fn groups(ui: &mut Ui, layout: &mut Layout, mut sizes: Sizes<'_>) {
    ui.horizontal_wrapped(|ui| {
        let mut grouped = layout.groups.is_some();
        if ui.checkbox(&mut grouped, "In groups").changed() {
            layout.groups = grouped.then_some(Groups {
                each: 3,
                gap: Mm(10.0),
            });
        }
        if let Some(groups) = &mut layout.groups {
            ui.label("of");
            let style = Style {
                width: 36.0,
                computed: false,
            };
            let shown = groups.each.to_string();
            let reads = |text: &str| text.trim().parse::<u32>().is_ok();
            if let Some(text) = typed_field(ui, "Pleats in a group", &shown, style, reads) {
                groups.each = text.trim().parse().unwrap_or(groups.each).max(1);
            }
            ui.label("with");
            sizes.length(ui, "Between groups", &mut groups.gap);
            ui.label("between");
        }
    });
}

fn plain(ui: &mut Ui, layout: &mut Layout, edge: Mm, mut sizes: Sizes<'_>) {
    ui.horizontal_wrapped(|ui| {
        let mut has = layout.plain.is_some();
        if ui.checkbox(&mut has, "Plain panel").changed() {
            layout.plain = has.then_some(PlainPanel {
                at: 0.5,
                width: Mm((edge.0 / 5.0).round()),
            });
        }
        if let Some(panel) = &mut layout.plain {
            sizes.length(ui, "Width of the plain panel", &mut panel.width);
            let all = [0.5, 0.0, 1.0];
            let near = all.iter().copied().find(|at| (at - panel.at).abs() < 1e-9);
            let asked = one_of(ui, "Plain panel", near.unwrap_or(-1.0), &all, |at| {
                if at == 0.5 {
                    "in the middle"
                } else if at == 0.0 {
                    "at the right end"
                } else {
                    "at the left end"
                }
            });
            panel.at = asked.unwrap_or(panel.at);
        }
    });
}

/// Places that folds keep off: plackets by the names of their openings, seams by the names of the neighbouring edges.
fn keep_off(ui: &mut Ui, layout: &mut Layout, place: &Place<'_>, mut sizes: Sizes<'_>) {
    let mut gone = None;
    for (i, kept) in layout.keep_off.iter_mut().enumerate() {
        ui.horizontal_wrapped(|ui| {
            ui.label(format!("Off {} by", kept.what));
            sizes.length(ui, &format!("Keep off {}", kept.what), &mut kept.by);
            let off = ui
                .button("Let go")
                .accessible_name(format!("Let go of {}", kept.what));
            if off.clicked() {
                gone = Some(i);
            }
        });
    }
    if let Some(i) = gone {
        layout.keep_off.remove(i);
    }
    let offered: Vec<(String, f64)> = offers(place)
        .into_iter()
        .filter(|(what, _)| layout.keep_off.iter().all(|kept| &kept.what != what))
        .collect();
    if offered.is_empty() {
        return;
    }
    let nothing = (String::from("keep off\u{2026}"), -1.0);
    let asked = pick(
        ui,
        "keep off",
        "Keep off",
        &nothing,
        &offered,
        |(what, _)| what.clone(),
    );
    if let Some((what, at)) = asked {
        layout.keep_off.push(KeepOff {
            what,
            at,
            by: Mm(3.0),
        });
    }
}

fn offers(place: &Place<'_>) -> Vec<(String, f64)> {
    let edges = place.piece.outline.edges();
    let Some(at) = place.piece.outline.index_of(place.edge) else {
        return Vec::new();
    };
    let count = edges.len();
    let name = |i: usize| edges.get(i % count).map(|edge| place.named(&edge.name));
    let mut offers = Vec::new();
    offers.extend(name(at + count - 1).map(|what| (what, 0.0)));
    offers.extend(name(at + 1).map(|what| (what, 1.0)));
    offers.push(("the middle".to_owned(), 0.5));
    for notch in place.piece.notches.iter().filter(|n| n.edge == place.edge) {
        let words = format!("the notch at {:.0} %", notch.fraction * 100.0);
        offers.push((words, notch.fraction));
    }
    offers
}

/// Gathering rows by their distance from the stitch line.
fn rows(ui: &mut Ui, layout: &mut Layout, mut sizes: Sizes<'_>) {
    let mut gone = None;
    for (i, row) in layout.rows.iter_mut().enumerate() {
        ui.horizontal_wrapped(|ui| {
            ui.label(format!("Row {}", i + 1));
            sizes.length(ui, &format!("Row {} from the stitch line", i + 1), row);
            if ui
                .button("Let go")
                .accessible_name(format!("Let go of row {}", i + 1))
                .clicked()
            {
                gone = Some(i);
            }
        });
    }
    if let Some(i) = gone {
        layout.rows.remove(i);
    }
    if ui.button("Another gathering row").clicked() {
        let last = layout.rows.last().map_or(0.0, |row| row.0);
        layout.rows.push(Mm(last + 6.0));
    }
}

/// Where the rows run and how long their stitches are; all kinds are stitched differently.
fn told_rows(ui: &mut Ui, form: &Form, layout: &Layout, (allowance, unit): (Mm, LengthUnit)) {
    let Some(op) = form.op() else {
        return;
    };
    let op = FullnessOp {
        layout: layout.clone(),
        ..op
    };
    let folded = op.folded(Mm(form.edge.0 * (op.to - op.from)));
    let rows = Rows::of(&op, &folded, allowance).words(unit);
    let words = rows.map_or_else(
        || "Eased in without a row; one may be added.".to_owned(),
        |rows| format!("{}.", wording::sentence(&rows)),
    );
    faded(ui, words);
    if let Fullness::Shirring { rows, .. } = op.fullness
        && !layout.rows.is_empty()
    {
        faded(ui, format!("They take the place of the {rows} rows below."));
    }
}

/// How many rows of shirring, and how far apart.
fn shirring(ui: &mut Ui, form: &mut Form, mut sizes: Sizes<'_>) -> bool {
    let (mut rows, mut apart) = (form.wanted.rows, form.wanted.apart);
    ui.horizontal_wrapped(|ui| {
        let style = Style {
            width: 36.0,
            computed: false,
        };
        let reads = |text: &str| text.trim().parse::<u32>().is_ok();
        if let Some(text) = typed_field(ui, "Rows", &rows.to_string(), style, reads) {
            rows = text.trim().parse().unwrap_or(rows);
        }
        ui.label("rows,");
        sizes.length(ui, "From row to row", &mut apart);
        ui.label("apart");
    });
    let changed = (rows, apart) != (form.wanted.rows, form.wanted.apart);
    if changed {
        form.rows(rows, apart);
    }
    changed
}
