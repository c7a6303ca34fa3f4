//! The numbers of a fullness as fields: what is given stands in ink, what is computed faded.

use egui::{RichText, Ui};
use petitoile_core::fullness::{Kind, Quantity, Solved};
use petitoile_core::{LengthUnit, Mm, units};

use super::form::{Form, got};
use crate::command::Command;
use crate::fields::{Asked, Moved, Style, mover, typed_field};
use crate::theme::Palette;
use crate::trays::faded;

/// What came of the numbers in this frame: nothing, tried, or done.
pub type Came = Asked<()>;

/// The numbers that a kind has, with their names.
fn rows(kind: Kind) -> Vec<(Quantity, &'static str)> {
    use Quantity::{Cloth, Count, Depth, Finished, Marks, Ratio, Spacing, Visible};
    let mut rows = vec![(Finished, "Finished length"), (Cloth, "Cloth length")];
    rows.extend(match kind {
        Kind::Gathers | Kind::Shirring => vec![(Ratio, "Times as long")],
        Kind::Ease => vec![],
        Kind::Cartridge => vec![
            (Count, "How many"),
            (Visible, "Width of a loop"),
            (Depth, "Depth"),
            (Ratio, "Times as long"),
        ],
        Kind::PinTucks | Kind::WideTucks => vec![
            (Count, "How many"),
            (Spacing, "From tuck to tuck"),
            (Depth, "Width of a tuck"),
            (Marks, "Marks on the cloth"),
        ],
        Kind::Box | Kind::DoubleBox => vec![
            (Count, "How many"),
            (Spacing, "From middle to middle"),
            (Visible, "Width of the top"),
            (Depth, "Depth"),
            (Marks, "Marks on the cloth"),
        ],
        Kind::Knife | Kind::Inverted | Kind::DoubleInverted => vec![
            (Count, "How many"),
            (Visible, "Visible width"),
            (Depth, "Depth"),
            (Marks, "Marks on the cloth"),
        ],
    });
    rows
}

/// All fields, what is wrong with them, and the nearest that can be.
pub fn fields(ui: &mut Ui, form: &mut Form, unit: LengthUnit, commands: &mut Vec<Command>) -> Came {
    faded(ui, "Type any two or three; the rest is computed.");
    let mut came = Asked::Nothing;
    for (what, name) in rows(form.wanted.kind) {
        let row = row(ui, form, what, name, unit, commands);
        came = stronger(came, row);
    }
    if form.wanted.kind.full_depth().is_some() {
        came = stronger(came, shares(ui, form));
    }
    stronger(came, trouble(ui, form, unit))
}

fn stronger(a: Came, b: Came) -> Came {
    match (a, b) {
        (Asked::Done(()), _) | (_, Asked::Done(())) => Asked::Done(()),
        (Asked::Trying(()), _) | (_, Asked::Trying(())) => Asked::Trying(()),
        _ => Asked::Nothing,
    }
}

fn row(
    ui: &mut Ui,
    form: &mut Form,
    what: Quantity,
    name: &str,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) -> Came {
    let field = 100.0;
    let tag = 80.0;
    let room = ui.available_width() - field - tag - 26.0 - 4.0 * ui.spacing().item_spacing.x;
    let beside = room >= 96.0;
    if !beside {
        faded(ui, name);
    }
    let came = ui.horizontal(|ui| {
        if beside {
            let left = egui::Layout::left_to_right(egui::Align::Center);
            ui.allocate_ui_with_layout(egui::vec2(room, 28.0), left, |ui| {
                ui.set_min_width(room);
                ui.add(egui::Label::new(name).truncate());
            });
        }
        let given = form.is_given(what);
        let shown = form
            .shown(what)
            .map_or(String::new(), |v| words(what, v, unit));
        let style = Style {
            width: field - 8.0,
            computed: !given,
        };
        let reads = |text: &str| read(what, text, unit).is_ok();
        let mut came = Asked::Nothing;
        if let Some(text) = typed_field(ui, name, &shown, style, reads) {
            came = typed(form, what, name, &text, unit, commands);
        }
        came = stronger(came, moved(ui, form, what, name, unit));
        came = stronger(came, tagged(ui, form, what, (name, unit)));
        came
    });
    if let Some(became) = form.became(what) {
        let words = told(what, became, unit);
        faded(
            ui,
            format!("{name} becomes {words}, so that the number is whole."),
        );
    }
    came.inner
}

/// A number that came of others: says when the figure is rounded.
fn told(what: Quantity, value: f64, unit: LengthUnit) -> String {
    match what {
        Quantity::Count | Quantity::Ratio => words(what, value, unit),
        _ => unit.show_computed(Mm(value)),
    }
}

/// The number in full, where the field shows it rounded.
fn in_full(form: &Form, what: Quantity, unit: LengthUnit) -> Option<String> {
    let length = match what {
        Quantity::Count | Quantity::Ratio => return None,
        _ => Mm(form.shown(what)?),
    };
    unit.is_rounded(length).then(|| unit.show_decimal(length))
}

fn typed(
    form: &mut Form,
    what: Quantity,
    name: &str,
    text: &str,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) -> Came {
    if text.trim().is_empty() {
        form.let_go(what);
        return Asked::Done(());
    }
    match read(what, text, unit) {
        Ok(value) => {
            form.give(what, value);
            Asked::Done(())
        }
        Err(why) => {
            commands.push(Command::Say(format!("{name}: {why}")));
            Asked::Nothing
        }
    }
}

/// The handle: tried while it moves, done when it is let go.
fn moved(ui: &mut Ui, form: &mut Form, what: Quantity, name: &str, unit: LengthUnit) -> Came {
    let Some(moved) = mover(ui, name) else {
        return Asked::Nothing;
    };
    let Some(now) = form.shown(what) else {
        return Asked::Nothing;
    };
    let step = step(what, unit);
    let least = step.min(1.0);
    match moved {
        Moved::LetGo => {
            form.held = None;
            return Asked::Done(());
        }
        Moved::By(steps) => {
            let from = *form.held.get_or_insert(now);
            form.give(what, rounded(from + steps * step, step).max(least));
            return Asked::Trying(());
        }
        Moved::Step(by) => form.give(what, rounded(now + by * step, step).max(least)),
    }
    Asked::Done(())
}

fn rounded(value: f64, step: f64) -> f64 {
    (value / step).round() * step
}

fn step(what: Quantity, unit: LengthUnit) -> f64 {
    match what {
        Quantity::Count => 1.0,
        Quantity::Ratio => 0.05,
        _ => unit.rule_step().0,
    }
}

/// "given" or "computed", or "rounded" where the field shows less than there is; clicked, a given one is let go and a
/// computed one held.
fn tagged(ui: &mut Ui, form: &mut Form, what: Quantity, (name, unit): (&str, LengthUnit)) -> Came {
    let given = form.is_given(what);
    let full = in_full(form, what, unit);
    let words = match (given, &full) {
        (true, _) => "given",
        (false, Some(_)) => "rounded",
        (false, None) => "computed",
    };
    let text = RichText::new(words).small();
    let button = ui.add(egui::Button::selectable(given, text).min_size(egui::vec2(66.0, 28.0)));
    let label = match &full {
        Some(full) => format!("{name}: given; rounded, in full {full}"),
        None => format!("{name}: given"),
    };
    button.widget_info(|| {
        egui::WidgetInfo::selected(egui::Role::CheckBox, true, given, label.clone())
    });
    let tip = if given {
        "Let it be computed"
    } else {
        "Hold it as it is"
    };
    let button = button.on_hover_text(match full {
        Some(full) => format!("{tip}. In full: {full}"),
        None => tip.to_owned(),
    });
    if !button.clicked() {
        return Asked::Nothing;
    }
    match (given, form.shown(what)) {
        (true, _) => form.let_go(what),
        (false, Some(now)) => form.give(what, now),
        (false, None) => return Asked::Nothing,
    }
    Asked::Done(())
}

/// Depth as a share of full.
fn shares(ui: &mut Ui, form: &mut Form) -> Came {
    use petitoile_core::fullness::Depth;
    let mut came = Asked::Nothing;
    ui.horizontal_wrapped(|ui| {
        ui.label("Depth");
        for (share, words) in [
            (1.0, "full"),
            (0.75, "3/4"),
            (2.0 / 3.0, "2/3"),
            (0.5, "half"),
            (1.0 / 3.0, "1/3"),
        ] {
            let chosen = match form.wanted.depth {
                Some(Depth::Full) => share == 1.0,
                Some(Depth::Share(now)) => (now - share).abs() < 1e-9,
                _ => false,
            };
            let button = ui.add(egui::Button::selectable(chosen, words));
            button.widget_info(|| {
                let label = format!("Depth: {words}");
                egui::WidgetInfo::selected(egui::Role::RadioButton, true, chosen, label)
            });
            if button.clicked() {
                form.give_share(share);
                came = Asked::Done(());
            }
        }
    });
    came
}

/// Why the numbers cannot be, and one click to the nearest that can.
fn trouble(ui: &mut Ui, form: &mut Form, unit: LengthUnit) -> Came {
    let Err(trouble) = form.outcome.clone() else {
        return Asked::Nothing;
    };
    let palette = Palette::showing(ui);
    ui.label(RichText::new(trouble.why).color(palette.unusable));
    let Some(nearest) = trouble.nearest else {
        return Asked::Nothing;
    };
    ui.label(format!("Nearest: {}.", said(&nearest, unit)));
    if ui.button("Take the nearest").clicked() {
        form.take_nearest();
        return Asked::Done(());
    }
    Asked::Nothing
}

/// All numbers of an outcome in one sentence.
pub fn said(solved: &Solved, unit: LengthUnit) -> String {
    let length = |mm: f64| unit.show_computed(Mm(mm));
    let mut words = match solved.count {
        Some(count) => solved.kind.counted(count),
        None => solved.kind.words().to_owned(),
    };
    if let Some(depth) = got(solved, Quantity::Depth) {
        let what = if solved.kind.is_tuck() {
            "wide"
        } else {
            "deep"
        };
        words.push_str(&format!(", {} {what}", length(depth)));
    }
    if let Some(spacing) = got(solved, Quantity::Spacing) {
        words.push_str(&format!(", {} apart", length(spacing)));
    }
    words.push_str(&format!(
        "; {} of cloth to {}",
        length(solved.cloth.0),
        length(solved.finished.0)
    ));
    words
}

/// A number as it is shown.
fn words(what: Quantity, value: f64, unit: LengthUnit) -> String {
    match what {
        Quantity::Count => format!("{value:.0}"),
        Quantity::Ratio => {
            let text = format!("{value:.2}");
            format!("{} times", text.trim_end_matches('0').trim_end_matches('.'))
        }
        _ => unit.show_chosen(Mm(value)),
    }
}

/// A number as it is typed.
fn read(what: Quantity, text: &str, unit: LengthUnit) -> Result<f64, String> {
    match what {
        Quantity::Count => text
            .trim()
            .parse::<u32>()
            .map(f64::from)
            .map_err(|_| format!("\u{201c}{}\u{201d} is no whole number", text.trim())),
        Quantity::Ratio => text
            .trim()
            .trim_end_matches("times")
            .trim()
            .replace(',', ".")
            .parse::<f64>()
            .ok()
            .filter(|ratio| ratio.is_finite())
            .ok_or_else(|| {
                format!(
                    "\u{201c}{}\u{201d} is no number; type it like 2.5",
                    text.trim()
                )
            }),
        _ => units::read_length(text, unit)
            .map(|mm| mm.0)
            .map_err(|why| why.to_string()),
    }
}
