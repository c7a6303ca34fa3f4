//! What groups and shapes of an SVG are called.

use roxmltree::Node;

use super::style::is;
use crate::bring_in::Meaning;
use crate::drawing::Layer;
use crate::svg;

/// Letters of a name at most.
const LONGEST: usize = 200;

/// Where a shape belongs.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Belongs {
    /// Groups, outermost first.
    pub groups: Vec<String>,
    /// The outermost.
    pub layer: String,
    /// What that group is, when we wrote the file.
    pub ours: Option<Layer>,
}

impl Belongs {
    /// The same inside of one more group.
    pub(super) fn inside(&self, group: Node<'_, '_>) -> Self {
        let mut inner = self.clone();
        if let Some(name) = name(group) {
            if inner.groups.is_empty() {
                inner.layer.clone_from(&name);
            }
            inner.groups.push(name);
        }
        let id = group.attribute("id");
        inner.ours = Layer::ALL
            .into_iter()
            .find(|layer| id == Some(svg::id(*layer)))
            .or(inner.ours);
        inner
    }

    /// What a line in here is.
    pub(super) fn of_line(&self) -> Option<Meaning> {
        match self.ours? {
            Layer::StitchLines => Some(Meaning::StitchLine),
            Layer::CutLines => Some(Meaning::CutLine),
            Layer::Marks => None,
            Layer::Text | Layer::Page => Some(Meaning::Reference),
        }
    }

    /// What a text in here is.
    pub(super) fn of_text(&self) -> Option<Meaning> {
        match self.ours? {
            Layer::Page => Some(Meaning::Reference),
            Layer::Text => Some(Meaning::PieceText),
            Layer::Marks | Layer::StitchLines | Layer::CutLines => Some(Meaning::Words),
        }
    }
}

/// What an element is called: its title, else a label that a drawing program gave it, else its id if a person chose it.
pub(super) fn name(node: Node<'_, '_>) -> Option<String> {
    let title = node
        .children()
        .find(|child| is(*child, "title"))
        .and_then(|title| title.text());
    let label = || {
        node.attributes()
            .find(|attribute| attribute.name() == "label")
            .map(|attribute| attribute.value())
    };
    let id = || node.attribute("id").filter(|id| is_chosen(node, id));
    let words = title.or_else(label).or_else(id)?;
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    (!words.is_empty()).then(|| words.chars().take(LONGEST).collect())
}

/// Did a person choose this id? "path42" and "g7-3" are numbers that a program gave.
fn is_chosen(node: Node<'_, '_>, id: &str) -> bool {
    let rest = id.strip_prefix(node.tag_name().name()).unwrap_or(id);
    rest.chars().any(|letter| letter.is_alphabetic())
}
