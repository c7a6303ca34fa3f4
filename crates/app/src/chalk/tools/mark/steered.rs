//! Which part of the body steers a piece; and what one without a part of its own follows.

use egui::Ui;
use petitoile_core::Mm;
use petitoile_core::alteration::MarkChange;
use petitoile_core::measure::Measure;
use petitoile_core::piece::{Follow, FollowRule, Frame, Piece, Placement};

use crate::chalk::ask::alter;
use crate::chalk::hand::Hand;
use crate::chalk::on_edge::pick_piece;
use crate::chalk::tool::{Gesture, Group, Tool};
use crate::command::{Chosen, Command};
use crate::fields::{Asked, Typed, length_field, one_of, pick, share_field};

/// Says which part of the body steers a piece.
#[derive(Default)]
pub struct SayPart;

/// The parts of the body, and none.
pub const FRAMES: [Option<Frame>; 5] = [
    Some(Frame::Torso),
    Some(Frame::Arm),
    Some(Frame::Leg),
    Some(Frame::Head),
    None,
];

/// "Torso".
pub fn part_words(frame: Option<Frame>) -> &'static str {
    match frame {
        Some(Frame::Torso) => "Torso",
        Some(Frame::Arm) => "Arm",
        Some(Frame::Leg) => "Leg",
        Some(Frame::Head) => "Head",
        None => "None",
    }
}

/// Rules without their numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Rule {
    Mate,
    Girth,
    Length,
    Typed,
    Detail,
}

const RULES: [Rule; 5] = [
    Rule::Mate,
    Rule::Girth,
    Rule::Length,
    Rule::Typed,
    Rule::Detail,
];

impl Rule {
    fn of(rule: &FollowRule) -> Self {
        match rule {
            FollowRule::Mate => Self::Mate,
            FollowRule::ShareOfGirth { .. } => Self::Girth,
            FollowRule::RatioOfLength { .. } => Self::Length,
            FollowRule::Typed(_) => Self::Typed,
            FollowRule::Detail => Self::Detail,
        }
    }

    fn words(self) -> &'static str {
        match self {
            Self::Mate => "what it is sewn to",
            Self::Girth => "a share of a girth",
            Self::Length => "a share of a length",
            Self::Typed => "a size of its own",
            Self::Detail => "as all details",
        }
    }

    /// The rule with the numbers it starts from; a size of its own is the one it has.
    fn fresh(self, size: f64) -> FollowRule {
        match self {
            Self::Mate => FollowRule::Mate,
            Self::Girth => FollowRule::ShareOfGirth {
                measure: Measure::WaistGirth,
                share: 0.5,
            },
            Self::Length => FollowRule::RatioOfLength {
                measure: Measure::Height,
                ratio: 0.1,
            },
            Self::Typed => FollowRule::Typed(Mm(size)),
            Self::Detail => FollowRule::Detail,
        }
    }
}

impl Tool for SayPart {
    fn name(&self) -> &'static str {
        "Body part"
    }

    fn tip(&self) -> &'static str {
        "Which part of the body steers a piece when it is adapted"
    }

    fn group(&self) -> Group {
        Group::Mark
    }

    fn snaps(&self) -> bool {
        false
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        match hand.pointer.as_ref().and_then(|at| at.piece.as_deref()) {
            Some(piece) => format!("Click: say what steers {piece}"),
            None => "Click a piece, then say in the tray what steers it".to_owned(),
        }
    }

    fn gesture(&mut self, _hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        if let Gesture::Click(at) = gesture {
            commands.push(Command::Choose(
                at.piece.map(Chosen::piece).unwrap_or_default(),
            ));
        }
    }

    fn cancel(&mut self, _commands: &mut Vec<Command>) -> bool {
        false
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        pick_piece(ui, hand, commands);
        let chosen = hand.session.chosen.piece.as_deref();
        let Some(piece) = chosen.and_then(|name| hand.piece(name)) else {
            return;
        };
        let now = match &piece.placement {
            Placement::Framed(frame) => Some(*frame),
            Placement::Follows(_) => None,
        };
        let mut asked = None;
        ui.label("Part of the body");
        ui.horizontal_wrapped(|ui| {
            if let Some(frame) = one_of(ui, "Steered by", now, &FRAMES, part_words) {
                asked = Some(match frame {
                    Some(frame) => Placement::Framed(frame),
                    None => Placement::Follows(Follow {
                        length: FollowRule::Detail,
                        depth: FollowRule::Detail,
                    }),
                });
            }
        });
        if let Placement::Follows(follow) = &piece.placement {
            asked = follow_fields(ui, hand, piece, follow, commands).or(asked);
        }
        if let Some(placement) = asked {
            let change = MarkChange::SetPlacement(placement);
            alter(hand, change.of(&piece.name), commands);
        }
    }
}

fn follow_fields(
    ui: &mut Ui,
    hand: &Hand<'_>,
    piece: &Piece,
    follow: &Follow,
    commands: &mut Vec<Command>,
) -> Option<Placement> {
    let size = piece.outline.bounds().size();
    let length = rule_fields(ui, hand, "Across", &follow.length, size.width, commands);
    let depth = rule_fields(ui, hand, "Upwards", &follow.depth, size.height, commands);
    (length.is_some() || depth.is_some()).then(|| {
        Placement::Follows(Follow {
            length: length.unwrap_or_else(|| follow.length.clone()),
            depth: depth.unwrap_or_else(|| follow.depth.clone()),
        })
    })
}

fn rule_fields(
    ui: &mut Ui,
    hand: &Hand<'_>,
    name: &str,
    now: &FollowRule,
    size: f64,
    commands: &mut Vec<Command>,
) -> Option<FollowRule> {
    let mut asked = None;
    ui.horizontal(|ui| {
        ui.label(name);
        let label = format!("{name} it follows");
        let words = |rule: &Rule| rule.words().to_owned();
        if let Some(rule) = pick(ui, name, &label, &Rule::of(now), &RULES, words) {
            asked = Some(rule.fresh(size));
        }
    });
    let share_of = |ui: &mut Ui, measure: Measure, share: f64, girth: bool| {
        let of_kind = Measure::ALL.into_iter().filter(|m| m.is_girth() == girth);
        let measures: Vec<Measure> = of_kind.collect();
        let mut now = (measure, share);
        ui.horizontal(|ui| {
            let label = format!("{name}: share");
            if let Asked::Done(share) = share_field(ui, &label, Some(share)) {
                now.1 = share;
            }
            ui.label("of");
            let label = format!("{name}: measure");
            let words = |measure: &Measure| measure.label().to_owned();
            if let Some(measure) = pick(ui, (name, "measure"), &label, &measure, &measures, words) {
                now.0 = measure;
            }
        });
        (now != (measure, share)).then_some(now)
    };
    match now {
        FollowRule::ShareOfGirth { measure, share } => {
            if let Some((measure, share)) = share_of(ui, *measure, *share, true) {
                asked = Some(FollowRule::ShareOfGirth { measure, share });
            }
        }
        FollowRule::RatioOfLength { measure, ratio } => {
            if let Some((measure, ratio)) = share_of(ui, *measure, *ratio, false) {
                asked = Some(FollowRule::RatioOfLength { measure, ratio });
            }
        }
        FollowRule::Typed(size) => {
            let label = format!("{name}: size");
            match length_field(ui, &label, Some(*size), "", hand.unit, 76.0).typed {
                Typed::Length(size) => asked = Some(FollowRule::Typed(size)),
                Typed::Trouble(why) => commands.push(Command::Say(why)),
                _ => {}
            }
        }
        FollowRule::Mate | FollowRule::Detail => {}
    }
    asked
}
