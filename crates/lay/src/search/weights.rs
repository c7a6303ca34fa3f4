//! How much each overlap counts. Overlaps that stay get heavier until something else gives way.

#![allow(
    clippy::indexing_slicing,
    reason = "rows and columns are numbered by the stock"
)]

use super::bay::Thing;
use super::stock::Stock;

/// One weight for every pair of bodies, and for every body with every obstacle and with the outside.
#[derive(Clone, Debug)]
pub(crate) struct Weights {
    bodies: usize,
    columns: usize,
    weights: Vec<f32>,
}

impl Weights {
    /// All 1.
    pub(crate) fn new(stock: &Stock) -> Self {
        let bodies = stock.bodies.len();
        let columns = bodies + stock.obstacles + 1;
        Self {
            bodies,
            columns,
            weights: vec![1.0; bodies * columns],
        }
    }

    /// All 1 again.
    pub(crate) fn reset(&mut self) {
        self.weights.fill(1.0);
    }

    /// The weights of one body.
    pub(crate) fn row(&self, body: usize) -> &[f32] {
        &self.weights[body * self.columns..(body + 1) * self.columns]
    }

    /// Where a thing stands in a row.
    pub(crate) fn column(&self, thing: Thing) -> usize {
        match thing {
            Thing::Body(body) => body as usize,
            Thing::Hole(number) | Thing::Zone(number, _) => self.bodies + number as usize,
            Thing::Outside => self.columns - 1,
        }
    }

    /// Number of columns.
    pub(crate) fn columns(&self) -> usize {
        self.columns
    }

    /// Changes every weight: `change(row, column, weight)`, pairs of bodies once and alike both ways.
    pub(crate) fn change(&mut self, mut change: impl FnMut(usize, usize, f32) -> f32) {
        for row in 0..self.bodies {
            for column in row + 1..self.columns {
                let at = row * self.columns + column;
                self.weights[at] = change(row, column, self.weights[at]);
                if column < self.bodies {
                    self.weights[column * self.columns + row] = self.weights[at];
                }
            }
        }
    }
}
