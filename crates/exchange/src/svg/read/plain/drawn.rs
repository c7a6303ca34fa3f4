//! Groups, what a `use` shows, shapes and markers.

use std::rc::Rc;

use roxmltree::Node;

use super::{Around, Numbered, Outcome, SIDES, Walk, short};
use crate::bring_in::BringInError;
use crate::svg::read::data;
use crate::svg::read::names::name;
use crate::svg::read::style::{Set, is, last};

impl<'a, 'input> Walk<'a, 'input> {
    pub(super) fn group(
        &mut self,
        node: Node<'a, 'input>,
        sets: &[Set<'a>],
        mut inner: Around<'a>,
    ) -> Outcome {
        inner.belongs = Rc::new(inner.belongs.inside(node));
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
    pub(super) fn used(
        &mut self,
        node: Node<'a, 'input>,
        sets: &[Set<'a>],
        mut inner: Around<'a>,
    ) -> Outcome {
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
        inner.belongs = Rc::new(inner.belongs.inside(node));
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
    pub(super) fn box_of(&mut self, node: Node<'a, 'input>, target: Node<'a, 'input>) -> Outcome {
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

    pub(super) fn group_within(
        &mut self,
        target: Node<'a, 'input>,
        sets: &[Set<'a>],
        mut inner: Around<'a>,
    ) -> Outcome {
        inner.belongs = Rc::new(inner.belongs.inside(target));
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

    pub(super) fn shape(
        &mut self,
        node: Node<'a, 'input>,
        sets: &[Set<'a>],
        inner: &Around<'a>,
    ) -> Outcome {
        let tag = node.tag_name().name();
        let letters = self
            .limits
            .bytes
            .saturating_sub(self.plain.xml.len() as u64);
        let corners = self.limits.elements.saturating_sub(self.elements);
        let data = data::of(node, letters, corners);
        if data.is_over {
            let limit = self.limits.elements;
            return Err(self.limits.error(self.file, limit, "drawn elements"));
        }
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
    pub(super) fn numbered(
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
                belongs: Rc::clone(&inner.belongs),
                name: name(node),
                line,
            });
        }
    }

    /// Writes a marker once and gives its number and what one of it costs.
    pub(super) fn marker(&mut self, id: &'a str) -> Result<Option<(usize, u64)>, BringInError> {
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
            belongs: Rc::default(),
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
}
