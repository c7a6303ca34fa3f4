//! Style sheets of an SVG, worked out for one element at a time.

use roxmltree::{Document, Node};
use simplecss::{AttributeOperator, DeclarationTokenizer, Element, PseudoClass, StyleSheet};

/// Rules tried on elements at most: 20 million take about a second.
const MOST_TRIED: u64 = 20_000_000;

/// The text of every style sheet in a document.
pub(super) fn sheets(doc: &Document<'_>) -> String {
    let mut out = String::new();
    for node in doc.descendants().filter(|node| is(*node, "style")) {
        if matches!(node.attribute("type"), None | Some("" | "text/css")) {
            for text in node.children().filter_map(|child| child.text()) {
                out.push_str(text);
                out.push('\n');
            }
        }
    }
    out
}

/// Is this an element of SVG with that name?
pub(super) fn is(node: Node<'_, '_>, name: &str) -> bool {
    tag(node) == Some(name)
}

/// Name of an element of SVG.
pub(super) fn tag<'a>(node: Node<'a, '_>) -> Option<&'a str> {
    let named = node.is_element().then(|| node.tag_name())?;
    matches!(named.namespace(), None | Some("http://www.w3.org/2000/svg")).then(|| named.name())
}

/// All rules of a document.
pub(super) struct Styles<'a> {
    sheet: StyleSheet<'a>,
    tried: u64,
}

/// One property of an element, set by a rule or by the element's own style.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Set<'a> {
    /// Name of the property.
    pub name: &'a str,
    /// What it is set to.
    pub value: &'a str,
}

impl<'a> Styles<'a> {
    pub(super) fn new(words: &'a str) -> Self {
        Self {
            sheet: StyleSheet::parse(words),
            tried: 0,
        }
    }

    /// What is set for an element, the last word last. `None` when there were too many rules for too many elements.
    pub(super) fn of<'b>(&mut self, node: Node<'b, '_>) -> Option<Vec<Set<'b>>>
    where
        'a: 'b,
    {
        self.tried += self.sheet.rules.len() as u64;
        if MOST_TRIED < self.tried {
            return None;
        }
        let matching = self
            .sheet
            .rules
            .iter()
            .filter(|rule| rule.selector.matches(&Styled(node)))
            .flat_map(|rule| rule.declarations.iter().copied());
        let own = DeclarationTokenizer::from(node.attribute("style").unwrap_or_default());
        let (important, plain): (Vec<_>, Vec<_>) =
            matching.chain(own).partition(|set| set.important);
        Some(
            plain
                .into_iter()
                .chain(important)
                .map(|set| Set {
                    name: set.name,
                    value: set.value,
                })
                .collect(),
        )
    }
}

/// The last word on a property: a rule, else the element's own attribute.
pub(super) fn last<'b>(node: Node<'b, '_>, sets: &[Set<'b>], name: &str) -> Option<&'b str> {
    sets.iter()
        .rev()
        .find(|set| set.name == name)
        .map(|set| set.value)
        .or_else(|| node.attribute(name))
        .map(str::trim)
}

struct Styled<'a, 'input>(Node<'a, 'input>);

impl Element for Styled<'_, '_> {
    fn parent_element(&self) -> Option<Self> {
        self.0.parent_element().map(Styled)
    }

    fn prev_sibling_element(&self) -> Option<Self> {
        self.0.prev_sibling_element().map(Styled)
    }

    fn has_local_name(&self, name: &str) -> bool {
        self.0.tag_name().name() == name
    }

    fn attribute_matches(&self, name: &str, operator: AttributeOperator<'_>) -> bool {
        self.0
            .attribute(name)
            .is_some_and(|value| operator.matches(value))
    }

    fn pseudo_class_matches(&self, class: PseudoClass<'_>) -> bool {
        matches!(class, PseudoClass::FirstChild) && self.prev_sibling_element().is_none()
    }
}
