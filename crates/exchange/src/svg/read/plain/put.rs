//! Writes elements, their attributes and their worked-out style.

use std::fmt::Write;
use std::str::FromStr;

use roxmltree::Node;

use super::{LONGEST_VALUE, Walk, short};
use crate::svg::read::style::{Set, last};

impl<'a, 'input> Walk<'a, 'input> {
    /// Says when an element is cut off by a path or mask: here it is read whole.
    pub(super) fn clips(&mut self, node: Node<'a, 'input>, sets: &[Set<'a>]) {
        for property in ["clip-path", "mask"] {
            if last(node, sets, property).is_some_and(|value| value.contains("url(")) {
                self.leave(
                    "a clip path or mask: what it hides is read too",
                    "look for lines that were not to be seen",
                    node,
                );
            }
        }
    }

    pub(super) fn open(
        &mut self,
        tag: &str,
        node: Node<'a, 'input>,
        sets: &[Set<'a>],
        without: &[&str],
    ) {
        self.put("<");
        self.put(tag);
        if !matches!(
            tag,
            "path" | "rect" | "circle" | "ellipse" | "line" | "polyline" | "polygon"
        ) {
            self.clips(node, sets);
        }
        self.look(node, sets, without);
    }

    pub(super) fn close(&mut self, tag: &str) {
        self.put("</");
        self.put(tag);
        self.put(">\n");
    }

    /// The attributes of an element and its worked-out style.
    pub(super) fn look(&mut self, node: Node<'a, 'input>, sets: &[Set<'a>], without: &[&str]) {
        for attribute in node.attributes() {
            let (space, name) = (attribute.namespace(), attribute.name());
            if space == Some("http://www.w3.org/XML/1998/namespace") && name == "space" {
                self.attribute("xml:space", attribute.value());
            }
            if space.is_none() && is_kept(name) && !without.contains(&name) {
                if is_too_wide(name, attribute.value()) {
                    self.leave(WIDE, "", node);
                } else if is_too_long(name, attribute.value()) {
                    let what = format!("an attribute \"{}\" of endless length", short(name));
                    self.leave(&what, "", node);
                } else {
                    self.attribute(name, &paint(name, attribute.value()));
                }
            }
        }
        let mut style = String::new();
        for set in sets.iter().filter(|set| {
            is_kept(set.name)
                && !is_too_long(set.name, set.value)
                && !is_too_wide(set.name, set.value)
        }) {
            let _ = write!(style, "{}:{};", set.name, paint(set.name, set.value));
        }
        if sets.iter().any(|set| is_too_wide(set.name, set.value)) {
            self.leave(WIDE, "", node);
        }
        if !style.is_empty() {
            self.attribute("style", &style);
        }
    }

    pub(super) fn attribute(&mut self, name: &str, value: &str) {
        let xml = &mut self.plain.xml;
        xml.push(' ');
        xml.push_str(name);
        xml.push_str("=\"");
        escape(xml, value);
        xml.push('"');
    }
}

/// Gradients and patterns become the plain colour that is given beside them, else grey.
fn paint<'v>(name: &str, value: &'v str) -> std::borrow::Cow<'v, str> {
    if !matches!(name, "fill" | "stroke") || !value.contains("url(") {
        return value.into();
    }
    match value.split_once(')').map(|(_, rest)| rest.trim()) {
        Some(rest) if !rest.is_empty() && rest != "none" => rest.into(),
        _ => "gray".into(),
    }
}

/// Attributes and properties that say where and how a line runs.
fn is_kept(name: &str) -> bool {
    !(name.starts_with("marker-start")
        || name.starts_with("marker-mid")
        || name.starts_with("marker-end")
        || name.starts_with("on")
        || name.starts_with("data-")
        || matches!(
            name,
            "id" | "class"
                | "style"
                | "href"
                | "marker"
                | "clip-path"
                | "mask"
                | "filter"
                | "overflow"
                | "label"
                | "xmlns"
                | "version"
                | "cursor"
                | "font-family"
                | "stroke-linejoin"
                | "stroke-linecap"
                | "stroke-miterlimit"
                | "mix-blend-mode"
                | "isolation"
                | "opacity"
                | "fill-opacity"
                | "stroke-opacity"
        ))
}

/// What is told of a stroke of no sensible width.
const WIDE: &str = "the width of a stroke, which is beyond all measure";

/// A stroke this wide is none, in any unit.
const WIDEST: f64 = 1000.0;

/// Is it the width of a stroke that nobody draws? usvg takes seconds to follow its edges.
fn is_too_wide(name: &str, value: &str) -> bool {
    name == "stroke-width"
        && svgtypes::Length::from_str(value.trim())
            .is_ok_and(|width| !(-WIDEST..=WIDEST).contains(&width.number))
}

/// Is a value longer than any that makes sense? A list of a million dashes that every line inherits would fill the memory.
fn is_too_long(name: &str, value: &str) -> bool {
    !matches!(name, "d" | "points" | "x" | "y" | "dx" | "dy" | "rotate")
        && LONGEST_VALUE < value.len()
}

/// Letters that are safe in an attribute and between tags.
pub(super) fn escape(out: &mut String, words: &str) {
    for letter in words.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\n' => out.push_str("&#10;"),
            '\r' => out.push_str("&#13;"),
            '\t' => out.push_str("&#9;"),
            other => out.push(other),
        }
    }
}
