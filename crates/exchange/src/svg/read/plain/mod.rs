//! Makes a plain SVG of any: every `use` drawn out, every style sheet worked out, every shape numbered, and nothing in it
//! that is no line or letter.
//!
//! usvg then reads the plain one. So the budget of drawn elements is counted here, before any memory is spent; no shape
//! loses the names of its groups (usvg drops ids inside a `use`); and pictures, patterns, masks, filters and outside files
//! never reach it.

mod drawn;
mod put;
mod text;

use std::collections::BTreeMap;

use roxmltree::{Document, Node, NodeId};

use super::names::{Belongs, name};
use super::size::Size;
use super::style::{Set, Styles, is, last, tag};
use crate::bring_in::{BringInError, Limits, Tally};

/// What an element counts of the budget: reading one costs about 2 kB.
const ELEMENT: u64 = 10;

/// What a letter counts of the budget: usvg draws each as outlines.
const LETTER: u64 = 10;

/// Letters of one text at most: usvg looks for each of them from the start of the text.
const LONGEST_TEXT: usize = 4000;

/// Letters of a value that is no list of points, at most.
const LONGEST_VALUE: usize = 4000;

const SIDES: [&str; 3] = ["marker-start", "marker-mid", "marker-end"];

/// A plain SVG.
#[derive(Default)]
pub(super) struct Plain {
    /// The file.
    pub xml: String,
    /// Every shape and text in it: its id is the number here.
    pub shapes: Vec<Numbered>,
    /// What was left out.
    pub left: Tally,
}

/// A shape or text.
pub(super) struct Numbered {
    /// Groups it belongs to.
    pub belongs: std::rc::Rc<Belongs>,
    /// Its own name.
    pub name: Option<String>,
    /// Line of the file.
    pub line: u32,
}

/// Makes it.
pub(super) fn plain(
    doc: &Document<'_>,
    sheets: &str,
    size: &Size,
    limits: &Limits,
    file: &str,
) -> Result<Plain, BringInError> {
    let mut ids = BTreeMap::new();
    for node in doc.descendants() {
        if let Some(id) = node.attribute("id") {
            ids.entry(id).or_insert(node);
        }
    }
    let mut walk = Walk {
        doc,
        ids,
        styles: Styles::new(sheets),
        plain: Plain::default(),
        markers: BTreeMap::new(),
        marker_words: String::new(),
        inside: Vec::new(),
        limits,
        file,
        elements: 0,
        letters: 0,
        letters_left: 0,
        lines: Vec::new(),
    };
    walk.lines = line_starts(doc.input_text());
    walk.outermost(size)?;
    Ok(walk.plain)
}

/// Where each line of a text begins, bytes.
fn line_starts(text: &str) -> Vec<usize> {
    std::iter::once(0)
        .chain(text.match_indices('\n').map(|(at, _)| at + 1))
        .collect()
}

struct Walk<'a, 'input> {
    doc: &'a Document<'input>,
    ids: BTreeMap<&'a str, Node<'a, 'input>>,
    styles: Styles<'a>,
    plain: Plain,
    /// Markers that are drawn somewhere: their number, and what one of them costs.
    markers: BTreeMap<String, Option<(usize, u64)>>,
    marker_words: String,
    /// The elements that are being drawn, outermost first.
    inside: Vec<NodeId>,
    limits: &'a Limits,
    file: &'a str,
    elements: u64,
    letters: u64,
    /// Letters that the text now being written may still have.
    letters_left: usize,
    lines: Vec<usize>,
}

/// What an element takes over from those around it.
#[derive(Clone)]
struct Around<'a> {
    belongs: std::rc::Rc<Belongs>,
    /// Marker at the start, in the middle, at the end.
    markers: [Option<&'a str>; 3],
    /// Is this the content of a marker? Then nothing is numbered.
    in_marker: bool,
}

type Outcome = Result<(), BringInError>;

impl<'a, 'input> Walk<'a, 'input> {
    fn outermost(&mut self, size: &Size) -> Outcome {
        let root = self.doc.root_element();
        if !is(root, "svg") {
            return Err(BringInError::Broken {
                file: self.file.to_owned(),
                why: format!(
                    "its outermost element is \"{}\", not \"svg\"",
                    root.tag_name().name()
                ),
            });
        }
        let sets = self.sets(root)?;
        self.put("<svg xmlns=\"http://www.w3.org/2000/svg\"");
        for name in ["viewBox", "preserveAspectRatio"] {
            if let Some(value) = root.attribute(name) {
                self.attribute(name, value);
            }
        }
        self.attribute("width", &size.width.to_string());
        self.attribute("height", &size.height.to_string());
        self.look(
            root,
            &sets,
            &[
                "width",
                "height",
                "x",
                "y",
                "viewBox",
                "preserveAspectRatio",
            ],
        );
        self.put(">\n");
        let mut around = Around {
            belongs: std::rc::Rc::default(),
            markers: [None; 3],
            in_marker: false,
        };
        around.take_markers(root, &sets);
        if last(root, &sets, "display") == Some("none") {
            self.hidden(root);
        } else {
            self.inside.push(root.id());
            self.children(root, &around)?;
        }
        let markers = std::mem::take(&mut self.marker_words);
        self.put("<defs>\n");
        self.put(&markers);
        self.put("</defs>\n</svg>\n");
        Ok(())
    }

    fn put(&mut self, words: &str) {
        self.plain.xml.push_str(words);
    }

    /// One more drawn element.
    fn count(&mut self, cost: u64) -> Outcome {
        self.elements = self.elements.saturating_add(cost);
        if self.limits.elements < self.elements {
            return Err(self
                .limits
                .error(self.file, self.limits.elements, "drawn elements"));
        }
        if self.limits.bytes < self.plain.xml.len() as u64 {
            return Err(self.limits.error(
                self.file,
                self.limits.bytes,
                "bytes once every \"use\" is drawn",
            ));
        }
        Ok(())
    }

    fn line(&self, node: Node<'_, '_>) -> u32 {
        u32::try_from(
            self.lines
                .partition_point(|start| *start <= node.range().start),
        )
        .unwrap_or(u32::MAX)
    }

    fn leave(&mut self, what: &str, advice: &'static str, node: Node<'_, '_>) {
        let line = self.line(node);
        self.plain
            .left
            .add(what, advice, || format!("in line {line} of the file"));
    }

    fn hidden(&mut self, node: Node<'_, '_>) {
        let named = name(node).map_or_else(String::new, |name| format!(" \"{name}\""));
        let what = format!("hidden: {}{named}", node.tag_name().name());
        self.leave(
            &what,
            "make it visible where the file was made if it belongs to the pieces",
            node,
        );
    }

    fn sets(&mut self, node: Node<'a, 'input>) -> Result<Vec<Set<'a>>, BringInError> {
        self.styles.of(node).ok_or_else(|| {
            self.limits
                .error(self.file, 20_000_000, "style rules tried on elements")
        })
    }

    fn children(&mut self, node: Node<'a, 'input>, around: &Around<'a>) -> Outcome {
        for child in node.children().filter(Node::is_element) {
            self.element(child, around)?;
        }
        Ok(())
    }

    fn element(&mut self, node: Node<'a, 'input>, around: &Around<'a>) -> Outcome {
        let Some(tag) = tag(node) else {
            return Ok(()); // a program's own notes
        };
        self.count(ELEMENT)?;
        let sets = self.sets(node)?;
        if last(node, &sets, "display") == Some("none") {
            if is_drawn(tag) {
                self.hidden(node);
            }
            return Ok(());
        }
        if self.limits.nesting <= self.inside.len() as u64 {
            return Err(self
                .limits
                .error(self.file, self.limits.nesting, "levels of nesting"));
        }
        self.inside.push(node.id());
        let mut inner = around.clone();
        inner.take_markers(node, &sets);
        match tag {
            "g" | "a" | "svg" | "switch" => self.group(node, &sets, inner)?,
            "path" | "rect" | "circle" | "ellipse" | "line" | "polyline" | "polygon" => {
                self.shape(node, &sets, &inner)?;
            }
            "text" => self.text(node, &sets, &inner)?,
            "use" => self.used(node, &sets, inner)?,
            "title" | "desc" | "metadata" | "defs" | "style" | "symbol" | "linearGradient"
            | "radialGradient" | "pattern" | "clipPath" | "mask" | "filter" | "marker"
            | "script" | "view" | "animate" | "animateTransform" | "animateMotion" | "set"
            | "cursor" | "font" | "font-face" | "color-profile" | "solidColor" => {}
            "image" => self.leave(
                "a picture",
                "bring the picture in by itself and trace it, if it shows pieces",
                node,
            ),
            other => {
                let what = format!("an element \"{}\", which is not read", short(other));
                self.leave(&what, "turn it into paths where the file was made", node);
            }
        }
        self.inside.pop();
        Ok(())
    }
}

impl<'a> Around<'a> {
    fn take_markers(&mut self, node: Node<'a, '_>, sets: &[Set<'a>]) {
        for (side, marker) in SIDES.into_iter().zip(&mut self.markers) {
            let value = last(node, sets, side).or_else(|| {
                sets.iter()
                    .rev()
                    .find(|set| set.name == "marker")
                    .map(|set| set.value)
            });
            match value {
                Some("inherit") | None => {}
                Some(value) => *marker = linked(value),
            }
        }
    }
}

/// The id in `url(#id)`.
fn linked(value: &str) -> Option<&str> {
    let inner = value.strip_prefix("url(")?.split(')').next()?;
    inner.trim().trim_matches(['"', '\'']).strip_prefix('#')
}

/// Would anybody miss it?
fn is_drawn(tag: &str) -> bool {
    matches!(
        tag,
        "g" | "a"
            | "svg"
            | "switch"
            | "use"
            | "text"
            | "image"
            | "path"
            | "rect"
            | "circle"
            | "ellipse"
            | "line"
            | "polyline"
            | "polygon"
    )
}

fn short(words: &str) -> String {
    words.chars().take(40).collect()
}
