//! Pages in rows whose overlap is put right as one: what a single seam does not tell, all of them together often do.

use petitoile_core::kurbo::{Point, Vec2};

use super::features::Matches;
use super::nearby::{GOOD, pulls};
use super::places::{PagePlace, PagePlaces, PlacedBy};

/// How far from the given places lines are looked for, round by round, mm.
const REACHES: [f64; 7] = [12.0, 8.0, 5.0, 3.0, 1.5, 1.0, 1.0];

/// A little weight for staying: it decides only where lines tell nothing.
const STAY: f64 = 1e-4;

/// The given places with one better step from column to column and from row to row; `None` when lines do not agree
/// on it.
pub(super) fn regular(matches: &Matches, places: &PagePlaces) -> Option<PagePlaces> {
    let cells = cells(matches, places)?;
    let mut places = places.clone();
    let mut off = f64::MAX;
    for reach in REACHES {
        // Unknown: how much longer the step across is, x and y, and the step down, x and y.
        let mut table = [[0.0; 5]; 4];
        for (at, row) in table.iter_mut().enumerate() {
            if let Some(own) = row.get_mut(at) {
                *own = STAY;
            }
        }
        off = 0.0;
        let (mut count, mut residuals) = (0, Vec::new());
        for (i, (first, a)) in cells.iter().enumerate() {
            for (second, b) in cells.iter().skip(i + 1) {
                let (column, row) = (b.0 - a.0, b.1 - a.1);
                if column.abs() + row.abs() != 1 {
                    continue;
                }
                let (Some(p), Some(q)) = (places.pages.get(*first), places.pages.get(*second))
                else {
                    continue;
                };
                for (normal, pull) in pulls(&matches.pages, (*second, q.at), (*first, p.at), reach)
                {
                    let (c, r) = (column as f64, row as f64);
                    let terms = [normal.x * c, normal.y * c, normal.x * r, normal.y * r];
                    for (line, a) in table.iter_mut().zip(terms) {
                        for (cell, b) in line.iter_mut().zip(terms) {
                            *cell += a * b;
                        }
                        if let Some(right) = line.last_mut() {
                            *right += a * pull;
                        }
                    }
                    residuals.push((terms, pull));
                    count += 1;
                }
            }
        }
        if count < 2 {
            return None;
        }
        let found = solved(table)?;
        let [ax, ay, dx, dy] = found;
        for (terms, pull) in &residuals {
            let moved: f64 = terms.iter().zip(found).map(|(a, b)| a * b).sum();
            off = off.max((pull - moved).abs());
        }
        for (page, (column, row)) in &cells {
            if let Some(place) = places.pages.get_mut(*page) {
                place.at += Vec2::new(ax, ay) * *column as f64 + Vec2::new(dx, dy) * *row as f64;
            }
        }
    }
    (off < GOOD).then_some(places)
}

/// A page and the column and row it stands in.
type Cell = (usize, (i64, i64));

/// Column and row of each page, by its given place.
fn cells(matches: &Matches, places: &PagePlaces) -> Option<Vec<Cell>> {
    let takes_part = |place: &&PagePlace| place.used && place.by != PlacedBy::Aside;
    let size = *matches.sizes.first()?;
    let first = places.pages.iter().find(takes_part)?.at;
    let least = |steps: Vec<f64>, most: f64| {
        let wide = steps.into_iter().filter(|step| *step > 0.3 * most);
        wide.fold(f64::MAX, f64::min)
    };
    let steps = |of: fn(Point) -> f64| -> Vec<f64> {
        places
            .pages
            .iter()
            .filter(takes_part)
            .map(|place| (of(place.at) - of(first)).abs())
            .collect()
    };
    let across = least(steps(|p| p.x), size.width);
    let down = least(steps(|p| p.y), size.height);
    Some(
        places
            .pages
            .iter()
            .enumerate()
            .filter(|(_, place)| takes_part(place))
            .map(|(page, place)| {
                let step = place.at - first;
                let column = (step.x / across).round() as i64;
                let row = (-step.y / down).round() as i64;
                (page, (column, row))
            })
            .collect(),
    )
}

/// Solves four equations by elimination with pivots; each row holds four factors and the right side.
fn solved(mut table: [[f64; 5]; 4]) -> Option<[f64; 4]> {
    for step in 0..4 {
        let pivot = (step..4).max_by(|a, b| {
            let size = |row: usize| {
                table
                    .get(row)
                    .and_then(|r| r.get(step))
                    .map_or(0.0, |v: &f64| v.abs())
            };
            size(*a).total_cmp(&size(*b))
        })?;
        table.swap(step, pivot);
        let own = *table.get(step)?;
        let lead = *own.get(step)?;
        if lead.abs() < 1e-12 {
            return None;
        }
        for (at, row) in table.iter_mut().enumerate() {
            let factor = row.get(step).copied().unwrap_or(0.0) / lead;
            if at != step {
                for (cell, pivot) in row.iter_mut().zip(own) {
                    *cell -= factor * pivot;
                }
            }
        }
    }
    let mut found = [0.0; 4];
    for (at, (value, row)) in found.iter_mut().zip(&table).enumerate() {
        *value = row.last()? / row.get(at)?;
    }
    Some(found)
}
