//! Layers (optional content, ISO 32000-1, 8.11): their names, which are off, and how to see those all the same.

use hayro_syntax::Pdf;
use hayro_syntax::object::{Array, Dict, Name, ObjectIdentifier, Stream, String as PdfString};
use hayro_syntax::page::Page;

use crate::bring_in::Meaning;
use crate::drawing::Layer;

/// The layers of a file.
pub(super) struct Layers {
    /// Names of those that are off.
    off: Vec<String>,
    /// Are they the five of our own prints?
    own: bool,
}

impl Layers {
    /// The layers that the file's list names.
    pub fn of(pdf: &Pdf) -> Self {
        let mut layers = Self {
            off: Vec::new(),
            own: false,
        };
        let xref = pdf.xref();
        let Some(list) = xref
            .get::<Dict<'_>>(xref.root_id())
            .and_then(|root| root.get::<Dict<'_>>(b"OCProperties".as_ref()))
        else {
            return layers;
        };
        let Some(groups) = list.get::<Array<'_>>(b"OCGs".as_ref()) else {
            return layers;
        };
        let ids = |array: &Array<'_>| -> Vec<ObjectIdentifier> {
            array
                .raw_iter()
                .filter_map(|item| Some(item.as_obj_ref()?.into()))
                .collect()
        };
        let usual = list.get::<Dict<'_>>(b"D".as_ref()).unwrap_or_default();
        let listed = |key: &[u8]| {
            usual
                .get::<Array<'_>>(key)
                .map(|a| ids(&a))
                .unwrap_or_default()
        };
        let base_off = usual
            .get::<Name<'_>>(b"BaseState".as_ref())
            .is_some_and(|state| state.as_ref() == b"OFF");
        let (on, off) = (listed(b"ON"), listed(b"OFF"));
        let mut names = Vec::new();
        for id in ids(&groups) {
            let name = xref
                .get::<Dict<'_>>(id)
                .and_then(|group| name_of(&group))
                .unwrap_or_else(|| "layer without a name".to_owned());
            if off.contains(&id) || (base_off && !on.contains(&id)) {
                layers.off.push(name.clone());
            }
            names.push(name);
        }
        layers.own = names.len() == Layer::ALL.len()
            && Layer::ALL
                .iter()
                .all(|own| names.iter().any(|name| name == own.name()));
        layers
    }

    /// "the layers A and B are off"; `None` when all are on.
    pub fn off_in_words(&self) -> Option<String> {
        const SHOWN: usize = 6;
        let (last, others) = self.off.split_last()?;
        if others.is_empty() {
            return Some(format!("the layer {last} is off"));
        }
        if self.off.len() > SHOWN {
            let first: Vec<&str> = self.off.iter().take(SHOWN).map(String::as_str).collect();
            let more = self.off.len() - SHOWN;
            return Some(format!(
                "the layers {} and {more} more are off",
                first.join(", ")
            ));
        }
        Some(format!(
            "the layers {} and {last} are off",
            others.join(", ")
        ))
    }

    /// The file with a second table of contents behind it that knows no layers, so that everything is shown.
    ///
    /// This is an incremental update (ISO 32000-1, 7.5.6). `None` for locked files, whose lock would be lost.
    pub fn all_on(&self, bytes: &[u8], pdf: &Pdf) -> Option<Vec<u8>> {
        let holds = |word: &[u8]| bytes.windows(word.len()).any(|at| at == word);
        if holds(b"/Encrypt") {
            return None;
        }
        let root = pdf.xref().root_id();
        let pages = pdf
            .xref()
            .get::<Dict<'_>>(root)?
            .get_ref(b"Pages".as_ref())?;
        let before = last_table(bytes)?;
        let mut all = bytes.to_vec();
        all.push(b'\n');
        let object = all.len();
        let (number, turn) = (root.obj_number, root.gen_number);
        let catalog = format!(
            "{number} {turn} obj\n<< /Type /Catalog /Pages {} {} R >>\nendobj\n",
            pages.obj_number, pages.gen_number
        );
        all.extend_from_slice(catalog.as_bytes());
        let table = all.len();
        let update = format!(
            "xref\n{number} 1\n{object:010} {turn:05} n \ntrailer\n<< /Size {} /Root {number} {turn} R /Prev {before} >>\n\
             startxref\n{table}\n%%EOF\n",
            u64::from(number) + 1
        );
        all.extend_from_slice(update.as_bytes());
        Some(all)
    }

    /// What one of our own prints says by its layer; `None` for other files.
    ///
    /// Marks (notches, grain, folds, dots) share one layer: what they are is seen by their shape.
    pub fn meaning(&self, layer: &str, is_text: bool, is_dashed: bool) -> Option<Meaning> {
        if !self.own {
            return None;
        }
        let layer = Layer::ALL.into_iter().find(|own| own.name() == layer)?;
        match (layer, is_text) {
            (Layer::Page, _) => Some(Meaning::Reference),
            (Layer::Text, true) => Some(Meaning::PieceText),
            (_, true) => Some(Meaning::Words),
            (Layer::CutLines, false) => (!is_dashed).then_some(Meaning::CutLine),
            // Dashed there: sewn inside of the piece (darts, gathers).
            (Layer::StitchLines, false) if is_dashed => Some(Meaning::Inside),
            (Layer::StitchLines, false) => Some(Meaning::StitchLine),
            (Layer::Marks | Layer::Text, false) => None,
        }
    }
}

/// A page's content with the layer of whole forms written around their calls, where the listener can hear of it.
///
/// A form may name its layer itself (`/OC`); the reading crate obeys that, but tells nobody. `None` when no form does.
pub(super) fn told_of_forms(page: &Page<'_>) -> Option<Vec<u8>> {
    /// Forms of one page that are looked at: each costs a walk through the content. Our own limit, no source.
    const MOST: usize = 64;
    let mut content: Option<Vec<u8>> = None;
    let forms = &page.resources().x_objects;
    for key in forms.keys().take(MOST) {
        let Some(name) = forms
            .get::<Stream<'_>>(key.as_ref())
            .and_then(|form| name_of(&form.dict().get::<Dict<'_>>(b"OC".as_ref())?))
        else {
            continue;
        };
        let before = match content.take() {
            Some(content) => content,
            None => page.page_stream()?.to_vec(),
        };
        content = Some(around_calls(&before, key.as_ref(), &name));
    }
    content
}

/// Writes marks of a layer around every call of a form.
fn around_calls(content: &[u8], form: &[u8], layer: &str) -> Vec<u8> {
    let digits: String = layer.bytes().map(|byte| format!("{byte:02x}")).collect();
    // UTF-8 with its mark, in hexadecimal: nothing in it can end the string.
    let begin = format!(" /OC << /Name <efbbbf{digits}> >> BDC ");
    let mut out = Vec::with_capacity(content.len() + begin.len() + 8);
    let mut rest = content;
    while let Some((byte, after)) = rest.split_first() {
        if *byte == b'/'
            && let Some(end) = after.strip_prefix(form).and_then(call_ends)
        {
            let call = rest.len() - end.len();
            out.extend_from_slice(begin.as_bytes());
            out.extend_from_slice(rest.get(..call).unwrap_or_default());
            out.extend_from_slice(b" EMC ");
            rest = end;
        } else {
            out.push(*byte);
            rest = after;
        }
    }
    out
}

/// What follows "Do", where that comes next.
fn call_ends(after_name: &[u8]) -> Option<&[u8]> {
    let rest = after_name.trim_ascii_start();
    let end = rest
        .strip_prefix(b"Do")
        .filter(|_| rest.len() < after_name.len())?;
    end.first()
        .is_none_or(u8::is_ascii_whitespace)
        .then_some(end)
}

/// The place that the last `startxref` names.
fn last_table(bytes: &[u8]) -> Option<u64> {
    let word = b"startxref";
    let at = bytes.windows(word.len()).rposition(|at| at == word)?;
    let rest = bytes.get(at + word.len()..)?;
    let digits: Vec<u8> = rest
        .iter()
        .copied()
        .skip_while(u8::is_ascii_whitespace)
        .take_while(u8::is_ascii_digit)
        .take(18)
        .collect();
    std::str::from_utf8(&digits).ok()?.parse().ok()
}

/// Name of the layer that a group, or the first group of a membership, stands for.
pub(super) fn name_of(properties: &Dict<'_>) -> Option<String> {
    if let Some(name) = properties.get::<PdfString<'_>>(b"Name".as_ref()) {
        return Some(decoded(name.as_bytes()));
    }
    let groups = b"OCGs".as_ref();
    let group = properties.get::<Dict<'_>>(groups).or_else(|| {
        properties
            .get::<Array<'_>>(groups)?
            .iter::<Dict<'_>>()
            .next()
    })?;
    let name = group.get::<PdfString<'_>>(b"Name".as_ref())?;
    Some(decoded(name.as_bytes()))
}

/// A text string (ISO 32000-1, 7.9.2.2): UTF-16 or UTF-8 with their marks, else one byte a letter.
pub(super) fn decoded(bytes: &[u8]) -> String {
    match bytes {
        [0xfe, 0xff, rest @ ..] => {
            let units: Vec<u16> = rest
                .chunks_exact(2)
                .map(|pair| {
                    pair.iter()
                        .fold(0, |sum, byte| (sum << 8) | u16::from(*byte))
                })
                .collect();
            String::from_utf16_lossy(&units)
        }
        [0xef, 0xbb, 0xbf, rest @ ..] => String::from_utf8_lossy(rest).into_owned(),
        // Many writers put UTF-8 without its mark; where it is none, the lower half of Latin-1 is the same in PDF.
        _ => match std::str::from_utf8(bytes) {
            Ok(words) => words.to_owned(),
            Err(_) => bytes.iter().map(|byte| char::from(*byte)).collect(),
        },
    }
}
