//! Numbers that are no lengths: a share of an edge (`2/5`, `40 %`, `0.4`), an angle in degrees.

use egui::{Key, TextEdit, Ui};

use super::Asked;

/// A field that reads a share between 0 and 1: `2/5`, `40 %` or `0.4`. What cannot be read changes nothing.
pub fn share_field(ui: &mut Ui, name: &str, value: Option<f64>) -> Asked<f64> {
    let shown = value.map_or(String::new(), |v| format!("{:.1} %", v * 100.0));
    field(ui, name, &shown, read_share)
}

/// A field that reads an angle in degrees.
pub fn angle_field(ui: &mut Ui, name: &str, value: Option<f64>) -> Asked<f64> {
    let shown = value.map_or(String::new(), |v| format!("{v:.1}\u{b0}"));
    field(ui, name, &shown, read_angle)
}

fn field(ui: &mut Ui, name: &str, shown: &str, read: fn(&str) -> Option<f64>) -> Asked<f64> {
    let id = ui.make_persistent_id(("number", name));
    let had_focus = ui.memory(|m| m.has_focus(id));
    let typed = had_focus
        .then(|| ui.data(|d| d.get_temp::<String>(id)))
        .flatten();
    let mut text = typed.unwrap_or_else(|| shown.to_owned());
    let edit = TextEdit::singleline(&mut text)
        .id(id)
        .desired_width(76.0)
        .align(egui::Align2::RIGHT_CENTER);
    let response = ui.add(edit).accessible_name(name);
    if response.lost_focus() {
        ui.data_mut(|d| d.remove::<String>(id));
        let kept = ui.input(|i| i.key_pressed(Key::Escape)) || text == shown;
        return match read(&text) {
            Some(value) if !kept => Asked::Done(value),
            _ => Asked::Nothing,
        };
    }
    if response.has_focus() {
        ui.data_mut(|d| d.insert_temp(id, text));
    }
    Asked::Nothing
}

fn decimal(text: &str) -> Option<f64> {
    let number: f64 = text.trim().replace(',', ".").parse().ok()?;
    number.is_finite().then_some(number)
}

fn read_share(text: &str) -> Option<f64> {
    let text = text.trim();
    let share = if let Some((above, below)) = text.split_once('/') {
        decimal(above)? / decimal(below)?
    } else if let Some(percent) = text.strip_suffix('%') {
        decimal(percent)? / 100.0
    } else {
        decimal(text)?
    };
    (0.0..=1.0).contains(&share).then_some(share)
}

fn read_angle(text: &str) -> Option<f64> {
    let text = text.trim();
    decimal(text.strip_suffix('\u{b0}').unwrap_or(text)).filter(|angle| angle.abs() <= 360.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_is_read_as_a_fraction_in_percent_or_as_a_decimal() {
        for text in ["2/5", "40 %", "40%", "0.4", "0,4", " 2 / 5 "] {
            assert!(
                read_share(text).is_some_and(|share| (share - 0.4).abs() < 1e-12),
                "{text}"
            );
        }
        for text in ["7/5", "1/0", "140 %", "-0.1", "", "half", "1/2/3"] {
            assert_eq!(read_share(text), None, "{text}");
        }
    }

    #[test]
    fn an_angle_is_read_with_or_without_its_sign() {
        assert_eq!(read_angle("45\u{b0}"), Some(45.0));
        assert_eq!(read_angle("-12,5"), Some(-12.5));
        assert_eq!(read_angle("4000"), None);
    }
}
