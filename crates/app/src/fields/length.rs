//! A length as a maker types it: `2 3/4 in`, `2.75"`, `70 mm`, `7 cm`, `1/8`; and the same with a slider.

use egui::{Key, TextEdit, Ui};
use petitoile_core::{LengthUnit, Mm, units};

use super::Asked;
use crate::theme::Palette;
use crate::wording;

/// What came of a field that was typed in.
#[derive(Debug, Clone, PartialEq)]
pub enum Typed {
    /// Nothing, or it is still being typed.
    Nothing,
    /// A length.
    Length(Mm),
    /// The field was emptied.
    Cleared,
    /// Not a length; why.
    Trouble(String),
}

/// What a length field gives back.
pub struct LengthField {
    /// What came of it.
    pub typed: Typed,
    /// Is it being typed in, or has the keys?
    pub in_focus: bool,
    /// The field itself.
    pub response: egui::Response,
}

/// A field that reads a length in any unit and shows it in the chosen one. `None` shows `hint`, faded.
///
/// The text is read when the field is left or Enter is pressed; Escape takes it back.
pub fn length_field(
    ui: &mut Ui,
    name: &str,
    value: Option<Mm>,
    hint: &str,
    unit: LengthUnit,
    width: f32,
) -> LengthField {
    field(ui, name, value, hint, unit, width, units::read_length)
}

/// The same for a length that may be negative: ease that takes in.
pub fn difference_field(
    ui: &mut Ui,
    name: &str,
    value: Option<Mm>,
    hint: &str,
    unit: LengthUnit,
    width: f32,
) -> LengthField {
    field(
        ui,
        name,
        value,
        hint,
        unit,
        width,
        units::read_signed_length,
    )
}

type Reader = fn(&str, LengthUnit) -> Result<Mm, units::LengthError>;

fn field(
    ui: &mut Ui,
    name: &str,
    value: Option<Mm>,
    hint: &str,
    unit: LengthUnit,
    width: f32,
    reader: Reader,
) -> LengthField {
    let id = ui.make_persistent_id(("length", name));
    let shown = value.map(|v| wording::length(v, unit)).unwrap_or_default();
    let had_focus = ui.memory(|m| m.has_focus(id));
    let mut text = if had_focus {
        ui.data(|d| d.get_temp::<String>(id))
            .unwrap_or_else(|| shown.clone())
    } else {
        shown.clone()
    };
    let trouble =
        had_focus && text != shown && !text.trim().is_empty() && reader(&text, unit).is_err();
    let palette = Palette::showing(ui);
    let mut edit = TextEdit::singleline(&mut text)
        .id(id)
        .desired_width(width)
        .min_size(egui::vec2(width, 0.0))
        .hint_text(hint)
        .align(egui::Align2::RIGHT_CENTER);
    if trouble {
        edit = edit.text_color(palette.unusable);
    }
    let response = ui.add(edit).accessible_name(name);
    if response.gained_focus() {
        select_all(ui, id, text.chars().count());
    }
    let typed = if response.lost_focus() {
        ui.data_mut(|d| d.remove::<String>(id));
        if ui.input(|i| i.key_pressed(Key::Escape)) || text == shown {
            Typed::Nothing
        } else {
            read(&text, unit, reader)
        }
    } else {
        if response.has_focus() {
            ui.data_mut(|d| d.insert_temp(id, text));
        }
        Typed::Nothing
    };
    LengthField {
        typed,
        in_focus: response.has_focus(),
        response,
    }
}

fn read(text: &str, unit: LengthUnit, reader: Reader) -> Typed {
    if text.trim().is_empty() {
        return Typed::Cleared;
    }
    match reader(text, unit) {
        Ok(length) => Typed::Length(length),
        Err(trouble) => Typed::Trouble(trouble.to_string()),
    }
}

pub(super) fn select_all(ui: &Ui, id: egui::Id, count: usize) {
    use egui::text::{CCursor, CCursorRange};
    if let Some(mut state) = egui::text_edit::TextEditState::load(ui.ctx(), id) {
        state.cursor.set_char_range(Some(CCursorRange::two(
            CCursor::new(0),
            CCursor::new(count),
        )));
        state.store(ui.ctx(), id);
    }
}

/// A slider with a field beside it that reads lengths in any unit.
pub fn length_slider(
    ui: &mut Ui,
    name: &str,
    value: Mm,
    range: std::ops::RangeInclusive<f64>,
    unit: LengthUnit,
) -> Asked<Mm> {
    let mut mm = value.0;
    let step = if unit == LengthUnit::Inch {
        units::MM_PER_INCH / 32.0
    } else {
        0.1
    };
    ui.label(name);
    let slider = egui::Slider::new(&mut mm, range)
        .clamping(egui::SliderClamping::Never)
        .smart_aim(false)
        .step_by(step)
        .custom_formatter(move |mm, _| unit.show_chosen(Mm(mm)))
        .custom_parser(move |text| units::read_length(text, unit).ok().map(|mm| mm.0))
        .update_while_editing(false);
    let response = ui.add(slider).accessible_name(name);
    if response.dragged() {
        if response.changed() {
            Asked::Trying(Mm(mm))
        } else {
            Asked::Nothing
        }
    } else if response.drag_stopped() || response.changed() {
        Asked::Done(Mm(mm))
    } else {
        Asked::Nothing
    }
}
