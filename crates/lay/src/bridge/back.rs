//! One place in both languages.
//!
//! A point `p` of a drawing lies, for the project, at `T(moved) R(turn) M p` of the offcut, `M` the mirroring at the y axis; for
//! the search, at `T(x, y) R(t) M R(-grain) p` of the room. As `M R(-grain) = R(grain) M`, the turn is `t - grain`, or
//! `t + grain` where it is mirrored. A room seen from behind puts another `M` before all: the turn and x change sign, and what
//! was mirrored no longer is.

use petitoile_core::Degrees;
use petitoile_core::lay_plan::Placed;

use super::Bridge;
use crate::search;

impl Bridge {
    /// A place that the search found, as a plan tells it. What was fixed comes back as it was given.
    pub(crate) fn to_plan(&self, found: &search::Placed) -> Option<Placed> {
        let fixed = self.problem.fixed.iter().position(|fixed| {
            (fixed.item, fixed.way, fixed.part) == (found.item, found.way, found.part)
        });
        if let Some(kept) = fixed.and_then(|i| self.kept.get(i)) {
            return Some(kept.clone());
        }
        self.told(found)
    }

    /// A place of the search, as a plan tells it, fixed or not.
    pub(crate) fn told(&self, found: &search::Placed) -> Option<Placed> {
        let item = self.items.get(found.item)?;
        let grain = *item.ways.get(found.way)?.grains.get(found.part)?;
        let room = self.rooms.get(found.room)?;
        let turn = if found.mirrored {
            found.turn_deg + grain
        } else {
            found.turn_deg - grain
        };
        let (turn, x, mirrored) = if room.from_behind {
            (-turn, -found.x, !found.mirrored)
        } else {
            (turn, found.x, found.mirrored)
        };
        Some(Placed {
            piece: item.of.piece.clone(),
            copy: item.of.copy,
            number: item.of.number,
            part: found.part,
            offcut: room.name.clone(),
            turn: Degrees(libm::remainder(turn, 360.0)),
            moved: (x, found.y),
            mirrored,
            pinned: false,
            as_cut: None,
        })
    }

    /// The place of a part as the search tells it.
    pub(crate) fn to_search(
        &self,
        placed: &Placed,
        item: usize,
        way: usize,
        room: usize,
        grain: f64,
    ) -> search::Placed {
        let (turn, x, mirrored) = if self.lies_from_behind(room) {
            (-placed.turn.0, -placed.moved.0, !placed.mirrored)
        } else {
            (placed.turn.0, placed.moved.0, placed.mirrored)
        };
        search::Placed {
            item,
            way,
            part: placed.part,
            room,
            turn_deg: if mirrored { turn - grain } else { turn + grain },
            mirrored,
            x,
            y: placed.moved.1,
        }
    }

    pub(crate) fn lies_from_behind(&self, room: usize) -> bool {
        self.rooms.get(room).is_some_and(|room| room.from_behind)
    }
}
