//! Slow work beside the window: one worker, numbered questions, the newest answer wins.
//!
//! A question that is overtaken before the worker takes it up is never worked on, so a moving slider costs one
//! solve at a time. A worker that meets a case it does not know says so; the window stays alive.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Condvar, Mutex, PoisonError};

/// The work broke off; the question before it can be asked again.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error(
    "this could not be worked out, it is a mistake of the program; undo the last change and save your work"
)]
pub struct BrokenOff;

/// One call that several workers wake the window with.
pub fn shared(wake: impl Fn() + Send + 'static) -> impl Fn() + Clone + Send + 'static {
    let wake = Arc::new(Mutex::new(wake));
    move || {
        if let Ok(wake) = wake.lock() {
            wake();
        }
    }
}

/// Work of one kind, done beside the window.
pub struct Background<Q, A> {
    asked: u64,
    got: u64,
    answers: Receiver<(u64, Result<A, BrokenOff>)>,
    how: How<Q, A>,
}

enum How<Q, A> {
    Beside(Arc<Slot<Q>>),
    AtOnce(Box<dyn Fn(Q) -> A>, Sender<(u64, Result<A, BrokenOff>)>),
}

struct Slot<Q> {
    waiting: Mutex<Waiting<Q>>,
    bell: Condvar,
}

struct Waiting<Q> {
    question: Option<(u64, Q)>,
    closed: bool,
}

impl<Q: Send + 'static, A: Send + 'static> Background<Q, A> {
    /// A worker of this name. `wake` is called after every answer.
    pub fn new(
        name: &str,
        work: impl Fn(Q) -> A + Send + Sync + 'static,
        wake: impl Fn() + Send + 'static,
    ) -> Self {
        let slot = Arc::new(Slot {
            waiting: Mutex::new(Waiting {
                question: None,
                closed: false,
            }),
            bell: Condvar::new(),
        });
        let (sender, answers) = channel();
        let work = Arc::new(work);
        let (theirs, their_work, their_sender) = (slot.clone(), work.clone(), sender.clone());
        let started = std::thread::Builder::new()
            .name(name.to_owned())
            .spawn(move || {
                while let Some((number, question)) = theirs.take() {
                    let answer = catch_unwind(AssertUnwindSafe(|| their_work(question)))
                        .map_err(|_| BrokenOff);
                    if their_sender.send((number, answer)).is_err() {
                        return; // the window has been closed
                    }
                    wake();
                }
            });
        let how = match started {
            Ok(_) => How::Beside(slot),
            // No thread to be had: then the window waits for its answers.
            Err(_) => How::AtOnce(Box::new(move |question| work(question)), sender),
        };
        Self {
            asked: 0,
            got: 0,
            answers,
            how,
        }
    }

    /// Answers every question before `ask` returns: for tests, and machines without threads.
    pub fn at_once(work: impl Fn(Q) -> A + 'static) -> Self {
        let (sender, answers) = channel();
        Self {
            asked: 0,
            got: 0,
            answers,
            how: How::AtOnce(Box::new(work), sender),
        }
    }

    /// Asks; an older question that nobody has taken up yet is forgotten.
    pub fn ask(&mut self, question: Q) {
        self.asked += 1;
        match &self.how {
            How::Beside(slot) => slot.put(self.asked, question),
            How::AtOnce(work, sender) => {
                let answer =
                    catch_unwind(AssertUnwindSafe(|| work(question))).map_err(|_| BrokenOff);
                sender.send((self.asked, answer)).ok();
            }
        }
    }

    /// The newest answer that has come in since the last call.
    pub fn answer(&mut self) -> Option<Result<A, BrokenOff>> {
        let mut newest = None;
        while let Ok((number, answer)) = self.answers.try_recv() {
            if number > self.got {
                self.got = number;
                newest = Some(answer);
            }
        }
        newest
    }

    /// Is the answer to the last question still to come?
    pub fn is_waiting(&self) -> bool {
        self.got < self.asked
    }
}

impl<Q, A> Drop for Background<Q, A> {
    fn drop(&mut self) {
        if let How::Beside(slot) = &self.how {
            slot.waiting
                .lock()
                .unwrap_or_else(PoisonError::into_inner)
                .closed = true;
            slot.bell.notify_all();
        }
    }
}

impl<Q> Slot<Q> {
    fn put(&self, number: u64, question: Q) {
        self.waiting
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .question = Some((number, question));
        self.bell.notify_all();
    }

    fn take(&self) -> Option<(u64, Q)> {
        let mut waiting = self.waiting.lock().unwrap_or_else(PoisonError::into_inner);
        loop {
            if waiting.closed {
                return None;
            }
            if let Some(question) = waiting.question.take() {
                return Some(question);
            }
            waiting = self
                .bell
                .wait(waiting)
                .unwrap_or_else(PoisonError::into_inner);
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic, reason = "tests")]
mod tests {
    use std::sync::Barrier;

    use super::*;

    fn wait_for<A: Send + 'static>(background: &mut Background<u32, A>) -> Result<A, BrokenOff> {
        loop {
            if let Some(answer) = background.answer() {
                return answer;
            }
            std::thread::yield_now();
        }
    }

    #[test]
    fn questions_that_were_overtaken_are_never_worked_on() {
        let (at_work, go_on) = (Arc::new(Barrier::new(2)), Arc::new(Barrier::new(2)));
        let worked = Arc::new(Mutex::new(Vec::new()));
        let (theirs, their_go, list) = (at_work.clone(), go_on.clone(), worked.clone());
        let mut background = Background::new(
            "test",
            move |question: u32| {
                if question == 1 {
                    theirs.wait();
                    their_go.wait();
                }
                list.lock().unwrap().push(question);
                question * 10
            },
            || {},
        );
        background.ask(1);
        at_work.wait();
        background.ask(2);
        background.ask(3);
        go_on.wait();
        let mut last = wait_for(&mut background).unwrap();
        while background.is_waiting() {
            last = wait_for(&mut background).unwrap();
        }
        assert_eq!(last, 30);
        assert_eq!(*worked.lock().unwrap(), [1, 3]);
    }

    #[test]
    fn work_that_breaks_off_is_told_and_the_next_question_is_answered() {
        let mut background = Background::new(
            "test",
            |q: u32| if q == 0 { panic!("on purpose") } else { q },
            || {},
        );
        background.ask(0);
        assert_eq!(wait_for(&mut background), Err(BrokenOff));
        background.ask(7);
        assert_eq!(wait_for(&mut background), Ok(7));
    }

    #[test]
    fn at_once_answers_before_the_question_returns() {
        let mut background = Background::at_once(|q: u32| q + 1);
        background.ask(4);
        assert_eq!(background.answer(), Some(Ok(5)));
        assert!(!background.is_waiting());
    }
}
