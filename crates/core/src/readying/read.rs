//! One piece as it is read: what its sides are, and how it hangs on the body.

use std::collections::BTreeMap;

use kurbo::{Affine, Point};

use super::bands;
use super::kinds::{Family, Role, View};
use super::reading::Candidate;
use super::sides::{Bit, turned};
use super::what::{Cut, What};
use crate::geometry::curve::Line;

/// How one piece is read.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Read {
    pub(super) what: What,
    pub(super) cut: Cut,
    pub(super) view: View,
    /// What each stretch is, walked as the kind's sides are: from the centre outwards, from the waist or armpit down, a
    /// cap from its front to its back.
    pub(super) roles: BTreeMap<Role, Vec<Bit>>,
    pub(super) darts: Vec<[usize; 2]>,
    /// From the drawing to the piece as it hangs on the body: y upwards, the front to the right.
    pub(super) motion: Affine,
    pub(super) mirrored: bool,
    /// The outline's edges where the motion takes them.
    pub(super) lines: Vec<Line>,
    pub(super) certainty: f64,
    pub(super) rests_on: Vec<String>,
    /// For a band, how much of its attached edge is sewn on, from its first end, and what it is that it is sewn to.
    pub(super) attached: Option<bands::Target>,
}

impl Read {
    /// A reading of a piece; `front_first` says whether the front lies towards its first side (for a sleeve: at the
    /// walked end of its cap).
    pub(super) fn new(candidate: &Candidate<'_>, view: &View, what: What, front: bool) -> Self {
        let mut roles: BTreeMap<Role, Vec<Bit>> = view
            .family
            .roles()
            .iter()
            .map(|role| (*role, view.bits(*role)))
            .collect();
        let take =
            |roles: &mut BTreeMap<Role, Vec<Bit>>, role| roles.remove(&role).unwrap_or_default();
        let (mut x, mut y) = (1.0, 1.0);
        match view.family {
            Family::Bodice | Family::Yoke | Family::Under => {
                x = if front { -1.0 } else { 1.0 };
            }
            Family::Sleeve => {
                // Walked: cap from its start to its end, down one underarm, along the hem, up the other.
                let (end, start) = (
                    take(&mut roles, Role::Fronter),
                    turned(&take(&mut roles, Role::Backer)),
                );
                let (cap, hem) = (take(&mut roles, Role::Cap), take(&mut roles, Role::Hem));
                if front {
                    roles.extend([
                        (Role::Fronter, end),
                        (Role::Backer, start),
                        (Role::Cap, turned(&cap)),
                        (Role::Hem, hem),
                    ]);
                } else {
                    roles.extend([
                        (Role::Fronter, start),
                        (Role::Backer, end),
                        (Role::Cap, cap),
                        (Role::Hem, turned(&hem)),
                    ]);
                    x = -1.0;
                }
            }
            Family::Panel => {
                let (first, other) = (
                    turned(&take(&mut roles, Role::Fronter)),
                    take(&mut roles, Role::Backer),
                );
                let (waist, hem) = (
                    take(&mut roles, Role::Waist),
                    turned(&take(&mut roles, Role::Hem)),
                );
                if front {
                    roles.extend([
                        (Role::Fronter, first),
                        (Role::Backer, other),
                        (Role::Waist, waist),
                        (Role::Hem, hem),
                    ]);
                    x = -1.0;
                } else {
                    roles.extend([
                        (Role::Fronter, other),
                        (Role::Backer, first),
                        (Role::Waist, turned(&waist)),
                        (Role::Hem, turned(&hem)),
                    ]);
                }
            }
            Family::Leg => {
                let inner = turned(&take(&mut roles, Role::Inner));
                roles.insert(Role::Inner, inner);
                x = if front { -1.0 } else { 1.0 };
            }
            Family::Band => match what {
                What::Collar => y = -1.0,
                What::Waistband => (x, y) = (-1.0, -1.0),
                _ => {}
            },
        }
        let (motion, mirrored) = motion(view, x, y);
        let lines: Vec<Line> = candidate
            .piece
            .outline
            .edges()
            .iter()
            .map(|edge| edge.line.mapped(|p| motion * p))
            .collect();
        let mut read = Self {
            what,
            cut: Cut::Once,
            view: view.clone(),
            roles,
            darts: candidate.drawn.darts.clone(),
            motion,
            mirrored,
            lines,
            certainty: 0.0,
            rests_on: Vec::new(),
            attached: None,
        };
        if what == What::Front {
            read.part_extension();
        }
        read
    }

    /// Takes the straight beginning of a front neckline, level from the edge, for what laps beyond the centre front.
    fn part_extension(&mut self) {
        let Some(neckline) = self.roles.get(&Role::Neckline).cloned() else {
            return;
        };
        let Some((bit, rest)) = neckline.split_first() else {
            return;
        };
        let Some(line) = self.lines.get(bit.edge) else {
            return;
        };
        let walked = if bit.from <= bit.to {
            line.clone()
        } else {
            line.reversed()
        };
        let mut along = 0.0;
        for cubic in walked.cubics() {
            let chord = cubic.p3 - cubic.p0;
            let own = Line::from_cubics(&[cubic]);
            let is_level = chord.y.abs() < 0.03 * chord.x.abs();
            if !is_level || !own.as_ref().is_some_and(Line::is_straight) {
                break;
            }
            along += chord.hypot();
        }
        let (whole, width) = (walked.length(), self.width());
        if along < 0.02 * width || along > 0.3 * width || whole <= 0.0 {
            return;
        }
        let share = along / whole;
        if share > 1.0 - 1e-6 {
            if rest.is_empty() {
                return;
            }
            self.roles.insert(Role::Extension, vec![*bit]);
            self.roles.insert(Role::Neckline, rest.to_vec());
            return;
        }
        let cut = bit.at(share);
        let lower = Bit { to: cut, ..*bit };
        let upper = Bit { from: cut, ..*bit };
        self.roles.insert(Role::Extension, vec![lower]);
        self.roles.insert(
            Role::Neckline,
            std::iter::once(upper).chain(rest.iter().copied()).collect(),
        );
    }

    pub(super) fn bits(&self, role: Role) -> &[Bit] {
        self.roles.get(&role).map_or(&[], Vec::as_slice)
    }

    /// Length of what plays a part, mm.
    pub(super) fn length(&self, role: Role) -> f64 {
        self.bits(role)
            .iter()
            .filter_map(|bit| Some(self.lines.get(bit.edge)?.length() * (bit.to - bit.from).abs()))
            .sum()
    }

    /// Where a part starts and ends, as the piece hangs.
    pub(super) fn start(&self, role: Role) -> Option<Point> {
        let bit = self.bits(role).first()?;
        Some(self.lines.get(bit.edge)?.at(bit.from))
    }

    pub(super) fn end(&self, role: Role) -> Option<Point> {
        let bit = self.bits(role).last()?;
        Some(self.lines.get(bit.edge)?.at(bit.to))
    }

    /// From the centre to the armpit, level: a quarter of the bust of a front or back.
    pub(super) fn width(&self) -> f64 {
        let (Some(side), Some(centre)) = (self.start(Role::Side), self.start(Role::Centre)) else {
            return self.length(Role::Lower);
        };
        (side.x - centre.x).abs()
    }
}

/// From the drawing to the piece as it hangs: `x` and `y` say whether outwards is to the right and up is up.
fn motion(view: &View, x: f64, y: f64) -> (Affine, bool) {
    let (out, up) = (view.out * x, view.up * y);
    let origin = view.sides.first().map_or(Point::ORIGIN, |side| {
        if view.against { side.start } else { side.end }
    });
    let turn = Affine::new([out.x, up.x, out.y, up.y, 0.0, 0.0]);
    (
        turn * Affine::translate(-origin.to_vec2()),
        turn.determinant() < 0.0,
    )
}
