//! Texts and their parts.

use roxmltree::Node;

use super::put::escape;
use super::{Around, ELEMENT, LETTER, LONGEST_TEXT, Outcome, Walk, short};
use crate::svg::read::style::{Set, is, last, tag};

impl<'a, 'input> Walk<'a, 'input> {
    pub(super) fn text(
        &mut self,
        node: Node<'a, 'input>,
        sets: &[Set<'a>],
        inner: &Around<'a>,
    ) -> Outcome {
        if inner.in_marker {
            return Ok(());
        }
        self.clips(node, sets);
        self.numbered("text", node, sets, inner, &[]);
        self.put(">");
        self.letters_left = LONGEST_TEXT;
        self.text_children(node)?;
        self.put("</text>\n");
        Ok(())
    }

    pub(super) fn text_children(&mut self, node: Node<'a, 'input>) -> Outcome {
        for child in node.children() {
            if child.is_text() {
                let words = child.text().unwrap_or_default();
                self.letters += LETTER * words.chars().count() as u64;
                if self.limits.letters < self.letters {
                    return Err(self.limits.error(self.file, self.limits.letters, "letters"));
                }
                let end = words
                    .char_indices()
                    .nth(self.letters_left)
                    .map_or(words.len(), |(at, _)| at);
                let shown = words.get(..end).unwrap_or_default();
                self.letters_left = self.letters_left.saturating_sub(shown.chars().count());
                if end < words.len() {
                    let what = format!("the end of a text of more than {LONGEST_TEXT} letters");
                    self.leave(&what, "", node);
                }
                escape(&mut self.plain.xml, shown);
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

    pub(super) fn text_part(&mut self, child: Node<'a, 'input>) -> Outcome {
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
}
