//! Where the pages lie, guessed from what they share and from their order.

use petitoile_core::kurbo::{Point, Rect, Vec2};

use super::features::{Fit, Matches};
use super::places::{PagePlace, PagePlaces, PlacedBy};
use crate::bring_in::{BringInError, FoundDrawing, Pace};

/// Votes of less weight join nothing.
const LEAST: f64 = 0.55;

/// Pages that lie together.
type Group = Vec<Member>;

#[derive(Clone, Copy)]
struct Member {
    page: usize,
    at: Point,
    sure: f64,
    off: Option<f64>,
    by: PlacedBy,
}

impl Matches {
    /// Where every page lies by its lines, and by its place among the pages. Pages that join nothing lie aside.
    pub(super) fn by_lines(
        &self,
        drawing: &FoundDrawing,
        pace: &Pace<'_>,
    ) -> Result<PagePlaces, BringInError> {
        pace.at(0.0)?;
        let mut groups = self.grouped();
        pace.at(0.3)?;
        let alone = groups.iter().filter(|group| group.len() == 1).count();
        if alone * 2 > self.sizes.len()
            && let Some(rows) = super::rows::guessed(self)
        {
            let given = PagePlaces::in_rows(drawing, &rows.rows);
            let mut places = self
                .refined_at(&given, &pace.part(0.4, 1.0))?
                .at_most(rows.sure);
            places.tidy(drawing);
            return Ok(places);
        }
        self.fill(&mut groups);
        groups.sort_by_key(|group| group.iter().map(|member| member.page).min());
        let mut places = PagePlaces {
            pages: vec![PagePlace::aside(); drawing.sheets.len()],
            trim: 0.0,
        };
        // Groups side by side: each is a piece, or a sheet, of its own.
        let mut x = 0.0;
        for group in groups.iter().filter(|group| group.len() > 1) {
            let Some(around) = self.around(group) else {
                continue;
            };
            let step = Vec2::new(x - around.x0, -around.y1);
            x += around.width() + 20.0;
            for member in group {
                if let Some(place) = places.pages.get_mut(member.page) {
                    *place = PagePlace {
                        at: member.at + step,
                        used: true,
                        by: member.by,
                        sure: member.sure,
                        off: member.off,
                    };
                }
            }
        }
        pace.at(0.7)?;
        let places = self.settle_ordered(places);
        let mut places = self.eased(places, &pace.part(0.7, 1.0))?;
        places.tidy(drawing);
        pace.at(1.0)?;
        Ok(places)
    }

    fn rect(&self, member: &Member) -> Option<Rect> {
        Some(Rect::from_origin_size(
            member.at,
            *self.sizes.get(member.page)?,
        ))
    }

    fn around(&self, group: &Group) -> Option<Rect> {
        group
            .iter()
            .filter_map(|member| self.rect(member))
            .reduce(|a, b| a.union(b))
    }

    /// What votes say, held against the lines that are cut between the two pages: where they do not go on, it is worth
    /// little.
    fn held(&self, (first, second): (usize, usize), fit: Fit) -> Fit {
        let (met, not) = self.meets(first, second, fit.step);
        let share = if met + not == 0 {
            1.0
        } else {
            met as f64 / (met + not) as f64
        };
        Fit {
            weight: fit.weight * if share < 0.6 { 0.2 * share } else { share },
            ..fit
        }
    }

    /// Joins pages, the surest first, as long as none lies on another.
    fn grouped(&self) -> Vec<Group> {
        let mut pairs: Vec<((usize, usize), Fit)> = self
            .votes
            .iter()
            .filter_map(|(pair, votes)| Some((*pair, self.held(*pair, Self::best(votes, None)?))))
            .filter(|(_, fit)| fit.weight > LEAST)
            .collect();
        pairs.sort_by(|a, b| b.1.weight.total_cmp(&a.1.weight).then(a.0.cmp(&b.0)));
        let mut groups: Vec<Group> = (0..self.sizes.len())
            .map(|page| {
                vec![Member {
                    page,
                    at: Point::ZERO,
                    sure: 0.0,
                    off: None,
                    by: PlacedBy::Lines,
                }]
            })
            .collect();
        for ((first, second), fit) in pairs {
            let find = |page: usize| {
                groups.iter().enumerate().find_map(|(index, group)| {
                    let member = group.iter().find(|member| member.page == page)?;
                    Some((index, member.at))
                })
            };
            let (Some((a, at_a)), Some((b, at_b))) = (find(first), find(second)) else {
                continue;
            };
            if a == b {
                continue;
            }
            let step = at_a + fit.step - at_b;
            let moved: Group = groups
                .get(b)
                .into_iter()
                .flatten()
                .map(|member| Member {
                    at: member.at + step,
                    ..*member
                })
                .collect();
            let Some(stay) = groups.get(a) else {
                continue;
            };
            let clash = stay.iter().any(|x| moved.iter().any(|y| self.clash(x, y)));
            if clash {
                continue;
            }
            let sure = fit.sure();
            if let Some(emptied) = groups.get_mut(b) {
                emptied.clear();
            }
            if let Some(stay) = groups.get_mut(a) {
                stay.extend(moved);
                for member in stay
                    .iter_mut()
                    .filter(|m| m.page == first || m.page == second)
                {
                    member.sure = member.sure.max(sure);
                    member.off = Some(member.off.map_or(fit.off, |off| off.max(fit.off)));
                }
            }
        }
        groups.retain(|group| !group.is_empty());
        groups
    }

    /// Does one page lie on another by more than a wide overlap?
    fn clash(&self, a: &Member, b: &Member) -> bool {
        let (Some(x), Some(y)) = (self.rect(a), self.rect(b)) else {
            return false;
        };
        let shared = x.intersect(y);
        let area = shared.width().max(0.0) * shared.height().max(0.0);
        area > 0.45 * x.area().min(y.area())
    }

    /// Pages, and smaller groups, that nothing joins to a group but that stand in the order of its rows get their place
    /// there.
    fn fill(&self, groups: &mut Vec<Group>) {
        let mut open = std::mem::take(groups);
        open.sort_by_key(|group| std::cmp::Reverse(group.len()));
        while !open.is_empty() {
            let mut group = open.remove(0);
            if group.len() > 1
                && let Some(rows) = self.rows(&group)
            {
                open.retain(|other| match self.in_order(other, &group, &rows) {
                    Some(members) => {
                        group.extend(members);
                        false
                    }
                    None => true,
                });
            }
            groups.push(group);
        }
    }

    /// A group moved to its place in the rows of another; `None` when it does not fit there.
    fn in_order(&self, other: &Group, group: &Group, rows: &InRows) -> Option<Group> {
        /// How far the pages of a group may lie from their places in the rows, mm.
        const OFF: f64 = 6.0;
        let first = other.first()?;
        let step = rows.place(first.page)? - first.at;
        let moved: Group = other
            .iter()
            .map(|member| Member {
                at: member.at + step,
                sure: if other.len() == 1 {
                    0.3
                } else {
                    member.sure.min(0.5)
                },
                by: PlacedBy::Order,
                ..*member
            })
            .collect();
        let fits = moved.iter().all(|member| {
            let near = rows
                .place(member.page)
                .is_some_and(|at| at.distance(member.at) < OFF);
            let same = self.sizes.get(member.page) == self.sizes.get(rows.first_page);
            near && same && !group.iter().any(|stays| self.clash(stays, member))
        });
        fits.then_some(moved)
    }

    /// Pages that came to their place by their order are moved to where their lines meet, where they tell.
    fn settle_ordered(&self, places: PagePlaces) -> PagePlaces {
        let ordered = |place: &PagePlace| place.by == PlacedBy::Order;
        if !places.pages.iter().any(ordered) {
            return places;
        }
        let mut settled = places.clone();
        for page in 0..places.pages.len() {
            let Some(place) = settled
                .pages
                .get(page)
                .filter(|place| ordered(place))
                .cloned()
            else {
                continue;
            };
            if let Some(fit) = self.fit(page, place.at, &settled, 6.0)
                && let Some(fresh) = settled.pages.get_mut(page)
            {
                *fresh = PagePlace {
                    at: fit.step.to_point(),
                    by: PlacedBy::Lines,
                    sure: fit.sure(),
                    off: Some(fit.off),
                    ..place
                };
            }
        }
        settled
    }

    /// The rows in which a group's pages stand, when they are counted along them without a gap in the counting.
    fn rows(&self, group: &Group) -> Option<InRows> {
        let mut members = group.clone();
        members.sort_by_key(|member| member.page);
        let first = *members.first()?;
        let size = *self.sizes.get(first.page)?;
        let steps = || {
            members
                .iter()
                .enumerate()
                .flat_map(|(i, a)| members.iter().skip(i + 1).map(move |b| b.at - a.at))
        };
        let across = median(
            steps()
                .filter(|s| {
                    0.5 * size.width < s.x
                        && s.x < 1.1 * size.width
                        && s.y.abs() < 0.2 * size.height
                })
                .collect(),
        )?;
        let down = median(
            steps()
                .filter(|s| {
                    0.5 * size.height < -s.y
                        && -s.y < 1.1 * size.height
                        && s.x.abs() < 0.2 * size.width
                })
                .collect(),
        )?;
        let place = |member: &Member| {
            let step = member.at - first.at;
            // The two steps may be a little slanted: solve for both.
            let determinant = across.cross(down);
            (
                (step.cross(down) / determinant).round() as i64,
                (across.cross(step) / determinant).round() as i64,
            )
        };
        let places: Vec<(usize, i64, i64)> = members
            .iter()
            .map(|member| {
                let (column, row) = place(member);
                (member.page, column, row)
            })
            .collect();
        let left = places.iter().map(|(_, column, _)| *column).min()?;
        let right = places.iter().map(|(_, column, _)| *column).max()?;
        let (top, bottom) = (
            places.iter().map(|(.., row)| *row).min()?,
            places.iter().map(|(.., row)| *row).max()?,
        );
        let widest = right - left + 1;
        let fits = |columns: i64| {
            let start = |(page, column, row): &(usize, i64, i64)| {
                *page as i64 - (row - top) * columns - (column - left)
            };
            let begin = places.first().map(start)?;
            (begin >= 0 && places.iter().all(|place| start(place) == begin)).then_some(begin)
        };
        let (columns, begin) =
            (widest..widest + 3).find_map(|columns| Some((columns, fits(columns)?)))?;
        Some(InRows {
            first_page: first.page,
            origin: first.at + across * (left as f64) + down * (top as f64),
            across,
            down,
            begin,
            columns,
            rows: bottom - top + 1,
        })
    }
}

/// Pages counted along rows.
struct InRows {
    first_page: usize,
    origin: Point,
    across: Vec2,
    down: Vec2,
    begin: i64,
    columns: i64,
    rows: i64,
}

impl InRows {
    fn place(&self, page: usize) -> Option<Point> {
        let number = page as i64 - self.begin;
        let (row, column) = (
            number.div_euclid(self.columns),
            number.rem_euclid(self.columns),
        );
        (number >= 0 && row < self.rows)
            .then(|| self.origin + self.across * column as f64 + self.down * row as f64)
    }
}

fn median(mut steps: Vec<Vec2>) -> Option<Vec2> {
    let middle = steps.len() / 2;
    steps.sort_by(|a, b| a.x.total_cmp(&b.x));
    let x = steps.get(middle)?.x;
    steps.sort_by(|a, b| a.y.total_cmp(&b.y));
    Some(Vec2::new(x, steps.get(middle)?.y))
}
