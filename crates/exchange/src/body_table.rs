//! Body tables: bodies as RON, with every figure's source. The tables in `assets/bodies` are embedded.
//!
//! A table names its sources once, by a short key, and each body lists its figures in groups of one origin and one
//! source. Lengths in mm. Works on text, not on paths.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::sync::{Arc, LazyLock};

use petitoile_core::Mm;
use petitoile_core::body::{Body, BodyKind, Measured, Origin, Torso};
use petitoile_core::measure::Measure;
use serde::Deserialize;

/// Smallest figure a table may hold, mm.
const LEAST: f64 = 0.5;
/// Largest figure a table may hold, mm.
const MOST: f64 = 3000.0;

const ADULTS: &str = include_str!("../../../assets/bodies/adults.ron");
const CHILDREN: &str = include_str!("../../../assets/bodies/children.ron");
const DOLLS: &str = include_str!("../../../assets/bodies/dolls.ron");

/// Read once; a test reads every table and shows the error if one is broken.
static BUILT_IN: LazyLock<Vec<Arc<Body>>> = LazyLock::new(|| {
    [ADULTS, CHILDREN, DOLLS]
        .into_iter()
        .filter_map(|table| read(table).ok())
        .flatten()
        .collect()
});

/// Why a body table cannot be read. Places are counted from 1.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum BodyTableError {
    /// Not text of this shape.
    #[error("body table, line {line}, column {column}: {what}")]
    Broken {
        /// Line.
        line: usize,
        /// Column.
        column: usize,
        /// What is wrong there.
        what: String,
    },
    /// A figure without an explained source.
    #[error(
        "body table, {body}: the source {source_key} is not explained under `sources`; add it there"
    )]
    UnknownSource {
        /// Name of the body.
        body: String,
        /// The key that is not explained.
        source_key: String,
    },
    /// The same name or key for two bodies.
    #[error("body table: two bodies are called {name}; rename one of them")]
    Twice {
        /// The name or key.
        name: String,
    },
    /// The same measure twice in one body.
    #[error("body table, {body}: {measure} stands there twice; keep one of the figures")]
    MeasureTwice {
        /// Name of the body.
        body: String,
        /// The measure.
        measure: Measure,
    },
    /// A body without a name.
    #[error("body table: body {place} has no name; give it one")]
    NoName {
        /// Its place in the table, from 1.
        place: usize,
    },
    /// A figure that makes no sense.
    #[error(
        "body table, {body}: {measure} cannot be {value} mm; it must be between {LEAST} and {MOST} mm"
    )]
    OutOfRange {
        /// Name of the body.
        body: String,
        /// The measure.
        measure: Measure,
        /// The figure.
        value: f64,
    },
}

/// A table as it stands in the file.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    sources: BTreeMap<String, String>,
    bodies: Vec<Row>,
}

/// A body as it stands in the file.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    #[serde(default)]
    key: String,
    name: String,
    kind: BodyKind,
    torso: Torso,
    #[serde(default)]
    note: String,
    figures: Vec<Group>,
}

/// Figures of one origin and one source.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Group {
    origin: Origin,
    source: String,
    measures: Figures,
}

/// Figures in the order of the file, so that a measure written twice is seen.
#[derive(Debug)]
struct Figures(Vec<(Measure, Mm)>);

impl<'de> Deserialize<'de> for Figures {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Pairs;
        impl<'de> serde::de::Visitor<'de> for Pairs {
            type Value = Figures;

            fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str("measures with their figures in mm, as in {WaistGirth: 84.0}")
            }

            fn visit_map<A: serde::de::MapAccess<'de>>(
                self,
                mut map: A,
            ) -> Result<Figures, A::Error> {
                let mut pairs = Vec::new();
                while let Some(pair) = map.next_entry()? {
                    pairs.push(pair);
                }
                Ok(Figures(pairs))
            }
        }
        deserializer.deserialize_map(Pairs)
    }
}

/// Every body that comes with Petitoile: adults, children, doll classes, in this order.
pub fn built_in() -> Vec<Arc<Body>> {
    BUILT_IN.clone()
}

/// The built-in body of this key ("play-45") or name ("45 cm play doll"), large or small letters.
pub fn find(key_or_name: &str) -> Option<Arc<Body>> {
    let wanted = key_or_name.trim().to_lowercase();
    BUILT_IN
        .iter()
        .find(|body| body.key.to_lowercase() == wanted || body.name.to_lowercase() == wanted)
        .cloned()
}

/// Reads a body table.
///
/// # Errors
/// [`BodyTableError`], with line and column, or with the body and the measure that is wrong.
pub fn read(text: &str) -> Result<Vec<Arc<Body>>, BodyTableError> {
    let table: Table = ron::from_str(text).map_err(|error| BodyTableError::Broken {
        line: error.span.start.line,
        column: error.span.start.col,
        what: match error.code {
            ron::Error::NoSuchEnumVariant { found, .. } => format!("{found} is not known here"),
            other => other.to_string(),
        },
    })?;
    let mut taken = BTreeSet::new();
    let mut bodies = Vec::with_capacity(table.bodies.len());
    for (index, row) in table.bodies.iter().enumerate() {
        if row.name.trim().is_empty() {
            return Err(BodyTableError::NoName { place: index + 1 });
        }
        let key = if row.key == row.name { "" } else { &row.key };
        if let Some(name) = [&row.name, key]
            .into_iter()
            .find(|name| !name.is_empty() && !taken.insert(name.to_lowercase()))
        {
            return Err(BodyTableError::Twice {
                name: name.to_owned(),
            });
        }
        bodies.push(Arc::new(body(row, &table.sources)?));
    }
    Ok(bodies)
}

fn body(row: &Row, sources: &BTreeMap<String, String>) -> Result<Body, BodyTableError> {
    let mut measures = BTreeMap::new();
    for group in &row.figures {
        let source = sources
            .get(&group.source)
            .ok_or_else(|| BodyTableError::UnknownSource {
                body: row.name.clone(),
                source_key: group.source.clone(),
            })?;
        for &(measure, value) in &group.measures.0 {
            if !(LEAST..=MOST).contains(&value.0) {
                return Err(BodyTableError::OutOfRange {
                    body: row.name.clone(),
                    measure,
                    value: value.0,
                });
            }
            if measures
                .insert(
                    measure,
                    Measured {
                        value,
                        origin: group.origin,
                        source: source.clone(),
                    },
                )
                .is_some()
            {
                return Err(BodyTableError::MeasureTwice {
                    body: row.name.clone(),
                    measure,
                });
            }
        }
    }
    Ok(Body {
        key: row.key.clone(),
        name: row.name.clone(),
        kind: row.kind,
        measures,
        torso: row.torso,
        note: row.note.clone(),
    })
}

/// Writes a body table: what is given on the bodies, each source explained once. [`read`] gives the same bodies back.
pub fn write<'a>(bodies: impl IntoIterator<Item = &'a Body>) -> String {
    let bodies: Vec<&Body> = bodies.into_iter().collect();
    let mut keys: BTreeMap<&str, String> = BTreeMap::new();
    for figure in bodies.iter().flat_map(|body| body.measures.values()) {
        let next = format!("source-{}", keys.len() + 1);
        keys.entry(&figure.source).or_insert(next);
    }
    let mut text = String::from("// A body table. Lengths in mm.\n(\n    sources: {\n");
    let mut explained: Vec<(&str, &str)> = keys
        .iter()
        .map(|(source, key)| (key.as_str(), *source))
        .collect();
    explained.sort_by_key(|(key, _)| (key.len(), *key));
    for (key, source) in explained {
        let _ = writeln!(text, "        {key:?}: {},", quoted(source));
    }
    text.push_str("    },\n    bodies: [\n");
    for body in bodies {
        write_body(&mut text, body, &keys);
    }
    text.push_str("    ],\n)\n");
    text
}

fn write_body(text: &mut String, body: &Body, keys: &BTreeMap<&str, String>) {
    let torso = match body.torso {
        Torso::Soft { give } => format!("Soft(give: {:?})", give.0),
        Torso::Rigid => "Rigid".to_owned(),
    };
    let (key, name, note) = (quoted(&body.key), quoted(&body.name), quoted(&body.note));
    let _ = writeln!(
        text,
        "        (\n            key: {key}, name: {name}, kind: {:?}, torso: {torso},",
        body.kind
    );
    let _ = writeln!(text, "            note: {note},\n            figures: [");
    let mut groups: Vec<(Origin, &str, Vec<String>)> = Vec::new();
    for measure in Measure::ALL {
        let Some(figure) = body.measures.get(&measure) else {
            continue;
        };
        let words = format!("{measure:?}: {:?}", figure.value.0);
        match groups
            .iter_mut()
            .find(|(origin, source, _)| (*origin, *source) == (figure.origin, &figure.source))
        {
            Some((_, _, group)) => group.push(words),
            None => groups.push((figure.origin, &figure.source, vec![words])),
        }
    }
    for (origin, source, figures) in groups {
        let key = keys.get(source).map_or("", String::as_str);
        let figures = figures.join(", ");
        let _ = writeln!(
            text,
            "                (origin: {origin:?}, source: {key:?}, measures: {{{figures}}}),"
        );
    }
    text.push_str("            ],\n        ),\n");
}

/// A text between quotation marks, as RON reads it.
fn quoted(text: &str) -> String {
    ron::to_string(text).unwrap_or_default()
}

#[cfg(test)]
#[path = "body_table_tests.rs"]
mod tests;
