//! The bodies the program ships with, read from the assets by a few lines (the core knows no file format).

use std::sync::Arc;

use petitoile_core::Mm;
use petitoile_core::body::{Body, BodyKind, Measured, Origin};
use petitoile_core::measure::Measure;

const FILES: [&str; 3] = [
    include_str!("../../../../assets/bodies/adults.ron"),
    include_str!("../../../../assets/bodies/children.ron"),
    include_str!("../../../../assets/bodies/dolls.ron"),
];

fn quoted(line: &str, field: &str) -> Option<String> {
    let rest = line.split_once(&format!("{field}: \""))?.1;
    Some(rest.split_once('"')?.0.to_owned())
}

/// Every body of the assets.
pub fn known() -> Vec<Arc<Body>> {
    let mut bodies: Vec<Body> = Vec::new();
    for line in FILES.iter().flat_map(|file| file.lines()) {
        if let (Some(key), Some(name)) = (quoted(line, "key"), quoted(line, "name")) {
            let kind = ["Woman", "Man", "Child", "Doll"]
                .into_iter()
                .zip([
                    BodyKind::Woman,
                    BodyKind::Man,
                    BodyKind::Child,
                    BodyKind::Doll,
                ])
                .find(|(word, _)| line.contains(&format!("kind: {word}")))
                .unwrap()
                .1;
            bodies.push(Body {
                key,
                ..Body::new(name, kind)
            });
        }
        let Some((_, figures)) = line.split_once("measures: {") else {
            continue;
        };
        for figure in figures.split_once('}').unwrap().0.split(", ") {
            let (name, value) = figure.split_once(": ").unwrap();
            let measure = Measure::ALL
                .into_iter()
                .find(|measure| format!("{measure:?}") == name)
                .unwrap();
            let measured = Measured {
                value: Mm(value.parse().unwrap()),
                origin: Origin::Typical,
                source: "assets".to_owned(),
            };
            bodies
                .last_mut()
                .unwrap()
                .measures
                .insert(measure, measured);
        }
    }
    bodies.into_iter().map(Arc::new).collect()
}

/// The body of this key.
pub fn body(key: &str) -> Arc<Body> {
    known().into_iter().find(|body| body.key == key).unwrap()
}
