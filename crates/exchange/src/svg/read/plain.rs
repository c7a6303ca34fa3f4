//! Makes a plain SVG of any: every `use` drawn out, every style sheet worked out, every shape numbered, and nothing in it
//! that is no line or letter.
//!
//! usvg then reads the plain one. So the budget of drawn elements is counted here, before any memory is spent; no shape
//! loses the names of its groups (usvg drops ids inside a `use`); and pictures, patterns, masks, filters and outside files
//! never reach it.

use std::collections::BTreeMap;
use std::fmt::Write;

use roxmltree::{Document, Node, NodeId};

use super::data;
use super::names::{Belongs, name};
use super::size::Size;
use super::style::{Set, Styles, is, last, tag};
use crate::bring_in::{BringInError, Limits, Tally};

/// What an element counts of the budget: reading one costs about 2 kB.
const ELEMENT: u64 = 10;

/// What a letter counts of the budget: usvg draws each as outlines.
const LETTER: u64 = 10;

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

    fn group(
        &mut self,
        node: Node<'a, 'input>,
        sets: &[Set<'a>],
        mut inner: Around<'a>,
    ) -> Outcome {
        inner.belongs = std::rc::Rc::new(inner.belongs.inside(node));
        let tag = if is(node, "a") {
            "g"
        } else {
            node.tag_name().name()
        };
        self.open(tag, node, sets, &[]);
        if tag == "svg" {
            self.attribute("overflow", "visible");
        }
        self.put(">\n");
        self.children(node, &inner)?;
        self.close(tag);
        Ok(())
    }

    /// The content of what a `use` names, in its place.
    fn used(&mut self, node: Node<'a, 'input>, sets: &[Set<'a>], mut inner: Around<'a>) -> Outcome {
        let xlink = ("http://www.w3.org/1999/xlink", "href");
        let href = node.attribute("href").or_else(|| node.attribute(xlink));
        let href = href.unwrap_or_default().trim();
        let Some(id) = href.strip_prefix('#') else {
            self.leave(
                "a \"use\" of another file",
                "put what it shows into this file where it was made",
                node,
            );
            return Ok(());
        };
        let Some(target) = self.ids.get(id).copied() else {
            let what = format!("a \"use\" of \"{}\", which is not in the file", short(id));
            self.leave(&what, "", node);
            return Ok(());
        };
        if self.inside.contains(&target.id()) {
            let what = format!("a \"use\" of \"{}\" inside of itself", short(id));
            self.leave(&what, "", node);
            return Ok(());
        }
        inner.belongs = std::rc::Rc::new(inner.belongs.inside(node));
        self.open("g", node, sets, &["x", "y", "width", "height", "viewBox"]);
        self.put("><svg overflow=\"visible\"");
        for side in ["x", "y"] {
            if let Some(value) = node.attribute(side) {
                self.attribute(side, value);
            }
        }
        if is(target, "symbol") || is(target, "svg") {
            self.box_of(node, target)?;
            self.put(">\n");
            let target_sets = self.sets(target)?;
            self.inside.push(target.id());
            if last(target, &target_sets, "display") == Some("none") {
                self.hidden(target);
            } else {
                inner.take_markers(target, &target_sets);
                self.group_within(target, &target_sets, inner)?;
            }
            self.inside.pop();
        } else {
            self.put(">\n");
            self.element(target, &inner)?;
        }
        self.put("</svg></g>\n");
        Ok(())
    }

    /// Size and view box of a symbol or inner svg that a `use` shows.
    fn box_of(&mut self, node: Node<'a, 'input>, target: Node<'a, 'input>) -> Outcome {
        for side in ["width", "height"] {
            let value = node.attribute(side).or_else(|| target.attribute(side));
            if let Some(value) = value {
                self.attribute(side, value);
            }
        }
        for name in ["viewBox", "preserveAspectRatio"] {
            if let Some(value) = target.attribute(name) {
                self.attribute(name, value);
            }
        }
        self.count(0)
    }

    fn group_within(
        &mut self,
        target: Node<'a, 'input>,
        sets: &[Set<'a>],
        mut inner: Around<'a>,
    ) -> Outcome {
        inner.belongs = std::rc::Rc::new(inner.belongs.inside(target));
        let placed = [
            "x",
            "y",
            "width",
            "height",
            "viewBox",
            "preserveAspectRatio",
        ];
        self.open("g", target, sets, &placed);
        self.put(">\n");
        self.children(target, &inner)?;
        self.close("g");
        Ok(())
    }

    fn shape(&mut self, node: Node<'a, 'input>, sets: &[Set<'a>], inner: &Around<'a>) -> Outcome {
        let tag = node.tag_name().name();
        let data = data::of(node);
        self.count(data.corners)?;
        if data.is_beyond {
            self.leave(
                "a shape with a figure beyond all measure",
                "look what is wrong with it where the file was made",
                node,
            );
            return Ok(());
        }
        if data.is_broken {
            self.leave(
                "a path whose data are broken: it is read up to there",
                "look whether its end is missing",
                node,
            );
        }
        let corners = data.corners;
        self.clips(node, sets);
        let mut uses = Vec::new();
        if matches!(tag, "path" | "line" | "polyline" | "polygon") && !inner.in_marker {
            for (side, id) in SIDES.into_iter().zip(inner.markers) {
                if let Some((number, cost)) = id.map(|id| self.marker(id)).transpose()?.flatten() {
                    let times = if side == "marker-mid" { corners } else { 1 };
                    self.count(times.saturating_mul(cost))?;
                    uses.push((side, format!("url(#m{number})")));
                }
            }
        }
        if data.path.is_some() {
            self.numbered(
                "path",
                node,
                sets,
                inner,
                &["d", "cx", "cy", "r", "rx", "ry"],
            );
        } else {
            self.numbered(tag, node, sets, inner, &[]);
        }
        if let Some(path) = &data.path {
            self.attribute("d", path);
        }
        for (side, link) in uses {
            self.attribute(side, &link);
        }
        self.put("/>\n");
        Ok(())
    }

    /// Opens an element under the next number.
    fn numbered(
        &mut self,
        tag: &str,
        node: Node<'a, 'input>,
        sets: &[Set<'a>],
        inner: &Around<'a>,
        without: &[&str],
    ) {
        self.open(tag, node, sets, without);
        if !inner.in_marker {
            self.attribute("id", &format!("s{}", self.plain.shapes.len()));
            let line = self.line(node);
            self.plain.shapes.push(Numbered {
                belongs: std::rc::Rc::clone(&inner.belongs),
                name: name(node),
                line,
            });
        }
    }

    /// Writes a marker once and gives its number and what one of it costs.
    fn marker(&mut self, id: &'a str) -> Result<Option<(usize, u64)>, BringInError> {
        if let Some(known) = self.markers.get(id) {
            return Ok(*known);
        }
        let marker = self.ids.get(id).copied().filter(|node| is(*node, "marker"));
        let Some(marker) = marker else {
            self.markers.insert(id.to_owned(), None);
            return Ok(None);
        };
        let number = self.markers.len();
        let before = self.elements;
        let outside = std::mem::take(&mut self.plain.xml);
        let sets = self.sets(marker)?;
        let plain_sides = ["id", "overflow"];
        self.open("marker", marker, &sets, &plain_sides);
        self.attribute("id", &format!("m{number}"));
        self.attribute("overflow", "visible");
        self.put(">\n");
        let around = Around {
            belongs: std::rc::Rc::default(),
            markers: [None; 3],
            in_marker: true,
        };
        self.inside.push(marker.id());
        self.children(marker, &around)?;
        self.inside.pop();
        self.close("marker");
        let words = std::mem::replace(&mut self.plain.xml, outside);
        self.marker_words.push_str(&words);
        let known = Some((number, (self.elements - before).max(1)));
        self.markers.insert(id.to_owned(), known);
        Ok(known)
    }

    fn text(&mut self, node: Node<'a, 'input>, sets: &[Set<'a>], inner: &Around<'a>) -> Outcome {
        if inner.in_marker {
            return Ok(());
        }
        self.clips(node, sets);
        self.numbered("text", node, sets, inner, &[]);
        self.put(">");
        self.text_children(node)?;
        self.put("</text>\n");
        Ok(())
    }

    fn text_children(&mut self, node: Node<'a, 'input>) -> Outcome {
        for child in node.children() {
            if child.is_text() {
                let words = child.text().unwrap_or_default();
                self.letters += LETTER * words.chars().count() as u64;
                if self.limits.letters < self.letters {
                    return Err(self.limits.error(self.file, self.limits.letters, "letters"));
                }
                escape(&mut self.plain.xml, words);
                continue;
            }
            let Some(tag) = tag(child) else { continue };
            match tag {
                "tspan" | "a" | "textPath" => self.text_part(child)?,
                "title" | "desc" | "metadata" => {}
                other => {
                    let what = format!("an element \"{}\" in a text", short(other));
                    self.leave(&what, "", child);
                }
            }
        }
        Ok(())
    }

    fn text_part(&mut self, child: Node<'a, 'input>) -> Outcome {
        self.count(ELEMENT)?;
        let sets = self.sets(child)?;
        if last(child, &sets, "display") == Some("none") {
            self.hidden(child);
            return Ok(());
        }
        if is(child, "textPath") {
            self.leave(
                "the path that a text runs along",
                "its words are read in one straight line",
                child,
            );
        }
        if self.limits.nesting <= self.inside.len() as u64 {
            return Err(self
                .limits
                .error(self.file, self.limits.nesting, "levels of nesting"));
        }
        self.inside.push(child.id());
        self.open("tspan", child, &sets, &["startOffset"]);
        self.put(">");
        self.text_children(child)?;
        self.put("</tspan>");
        self.inside.pop();
        Ok(())
    }

    /// Says when an element is cut off by a path or mask: here it is read whole.
    fn clips(&mut self, node: Node<'a, 'input>, sets: &[Set<'a>]) {
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

    fn open(&mut self, tag: &str, node: Node<'a, 'input>, sets: &[Set<'a>], without: &[&str]) {
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

    fn close(&mut self, tag: &str) {
        self.put("</");
        self.put(tag);
        self.put(">\n");
    }

    /// The attributes of an element and its worked-out style.
    fn look(&mut self, node: Node<'a, 'input>, sets: &[Set<'a>], without: &[&str]) {
        for attribute in node.attributes() {
            let (space, name) = (attribute.namespace(), attribute.name());
            if space == Some("http://www.w3.org/XML/1998/namespace") && name == "space" {
                self.attribute("xml:space", attribute.value());
            }
            if space.is_none() && is_kept(name) && !without.contains(&name) {
                if is_too_long(name, attribute.value()) {
                    let what = format!("an attribute \"{}\" of endless length", short(name));
                    self.leave(&what, "", node);
                } else {
                    self.attribute(name, &paint(name, attribute.value()));
                }
            }
        }
        let mut style = String::new();
        for set in sets
            .iter()
            .filter(|set| is_kept(set.name) && !is_too_long(set.name, set.value))
        {
            let _ = write!(style, "{}:{};", set.name, paint(set.name, set.value));
        }
        if !style.is_empty() {
            self.attribute("style", &style);
        }
    }

    fn attribute(&mut self, name: &str, value: &str) {
        let xml = &mut self.plain.xml;
        xml.push(' ');
        xml.push_str(name);
        xml.push_str("=\"");
        escape(xml, value);
        xml.push('"');
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
                | "mix-blend-mode"
                | "isolation"
                | "opacity"
                | "fill-opacity"
                | "stroke-opacity"
        ))
}

/// Is a value longer than any that makes sense? A list of a million dashes that every line inherits would fill the memory.
fn is_too_long(name: &str, value: &str) -> bool {
    !matches!(name, "d" | "points" | "x" | "y" | "dx" | "dy" | "rotate")
        && LONGEST_VALUE < value.len()
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

/// Letters that are safe in an attribute and between tags.
fn escape(out: &mut String, words: &str) {
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
