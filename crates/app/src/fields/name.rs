//! A field for a name or for words: taken over when it is left or Enter is pressed.

use egui::{Key, TextEdit, Ui};

/// Gives the new text once it is finished and is another than before; Escape takes it back.
pub fn name_field(ui: &mut Ui, name: &str, value: &str) -> Option<String> {
    let id = ui.make_persistent_id(("name", name));
    let had_focus = ui.memory(|m| m.has_focus(id));
    let typed = had_focus
        .then(|| ui.data(|d| d.get_temp::<String>(id)))
        .flatten();
    let mut text = typed.unwrap_or_else(|| value.to_owned());
    let edit = TextEdit::singleline(&mut text).id(id).desired_width(120.0);
    let response = ui.add(edit).accessible_name(name);
    if response.lost_focus() {
        ui.data_mut(|d| d.remove::<String>(id));
        let kept = ui.input(|i| i.key_pressed(Key::Escape)) || text == value;
        return (!kept).then_some(text);
    }
    if response.has_focus() {
        ui.data_mut(|d| d.insert_temp(id, text));
    }
    None
}
