//! Looks over the bare letters of an XML file before it is taken apart: what would cost memory or time out of all
//! proportion is refused here.
//!
//! Three things are known to do so: elements inside of elements without end, thousands of attributes or name spaces in one
//! element (each is compared with each), and entities that are replaced a million times.

use crate::bring_in::{BringInError, Limits};

/// Attributes of one element at most.
const ATTRIBUTES: u64 = 256;

/// Declared name spaces in a file at most.
const NAME_SPACES: u64 = 20_000;

/// References to entities within the replacement of one, at most (roxmltree's own limit).
const NESTED_REFERENCES: u64 = 255;

/// Lets the letters of an XML file pass.
pub(super) fn guard(text: &str, limits: &Limits, file: &str) -> Result<(), BringInError> {
    let mut rest = text;
    let (mut depth, mut entities) = (0_u64, 0_u64);
    while let Some(at) = rest.find('<') {
        rest = rest.get(at..).unwrap_or_default();
        rest = if rest.starts_with("<!--") {
            after(rest, "-->")
        } else if rest.starts_with("<![CDATA[") {
            after(rest, "]]>")
        } else if rest.starts_with("<?") {
            after(rest, "?>")
        } else if rest.starts_with("<!") {
            let declared = declarations(rest);
            if declared.markup {
                return Err(BringInError::NotRead {
                    file: file.to_owned(),
                    what: "an SVG with elements inside of entities".to_owned(),
                    remedy: "save it as a plain SVG".to_owned(),
                });
            }
            entities += declared.letters;
            declared.rest
        } else if rest.starts_with("</") {
            depth = depth.saturating_sub(1);
            after(rest, ">")
        } else {
            let tag = Tag::of(rest);
            if ATTRIBUTES < tag.attributes {
                return Err(limits.error(file, ATTRIBUTES, "attributes of one element"));
            }
            if tag.opens {
                depth += 1;
            }
            if limits.nesting < depth {
                return Err(limits.error(file, limits.nesting, "levels of nesting"));
            }
            tag.rest
        };
    }
    if NAME_SPACES < text.matches("xmlns").count() as u64 {
        return Err(limits.error(file, NAME_SPACES, "name spaces"));
    }
    if 0 < entities {
        let replaced = references(text)
            .saturating_mul(NESTED_REFERENCES)
            .saturating_mul(entities);
        if limits.bytes.saturating_mul(4) < replaced {
            return Err(limits.error(file, limits.bytes, "letters in place of entities"));
        }
    }
    Ok(())
}

/// What follows the first `end`; nothing when there is none.
fn after<'a>(text: &'a str, end: &str) -> &'a str {
    text.find(end)
        .and_then(|at| text.get(at + end.len()..))
        .unwrap_or_default()
}

/// References to entities that are not XML's own.
fn references(text: &str) -> u64 {
    let own = ["&#", "&amp;", "&lt;", "&gt;", "&quot;", "&apos;"];
    text.match_indices('&')
        .filter(|(at, _)| {
            let rest = text.get(*at..).unwrap_or_default();
            !own.iter().any(|known| rest.starts_with(known))
        })
        .count() as u64
}

/// One tag from its `<` on.
struct Tag<'a> {
    attributes: u64,
    opens: bool,
    rest: &'a str,
}

impl<'a> Tag<'a> {
    fn of(text: &'a str) -> Self {
        let (mut attributes, mut quote, mut before) = (0, None, ' ');
        for (at, letter) in text.char_indices() {
            match (quote, letter) {
                (Some(open), _) if open == letter => quote = None,
                (Some(_), _) => {}
                (None, '"' | '\'') => quote = Some(letter),
                (None, '=') => attributes += 1,
                (None, '>') => {
                    return Self {
                        attributes,
                        opens: before != '/',
                        rest: text.get(at + 1..).unwrap_or_default(),
                    };
                }
                (None, _) => {}
            }
            before = letter;
        }
        Self {
            attributes,
            opens: true,
            rest: "",
        }
    }
}

/// What a document type declares.
struct Declared<'a> {
    letters: u64,
    markup: bool,
    rest: &'a str,
}

fn declarations(text: &str) -> Declared<'_> {
    let (mut letters, mut markup, mut inner) = (0, false, 0_u32);
    let mut rest = text.get(2..).unwrap_or_default();
    while let Some(at) = rest.find(['"', '\'', '<', '>', '[', ']']) {
        let here = rest.get(at..).unwrap_or_default();
        let mut chars = here.chars();
        let letter = chars.next();
        rest = chars.as_str();
        match letter {
            Some('<') if here.starts_with("<!--") => rest = after(here, "-->"),
            Some('<') if here.starts_with("<?") => rest = after(here, "?>"),
            Some(quote @ ('"' | '\'')) => {
                let end = rest.find(quote).unwrap_or(rest.len());
                let value = rest.get(..end).unwrap_or_default();
                letters += value.len() as u64;
                // "&#60;" is a "<" too.
                markup |= value.contains('<') || value.contains("&#");
                rest = rest.get(end + 1..).unwrap_or_default();
            }
            Some('[') => inner += 1,
            Some(']') => inner = inner.saturating_sub(1),
            Some('>') if inner == 0 => break,
            _ => {}
        }
    }
    Declared {
        letters,
        markup,
        rest,
    }
}
