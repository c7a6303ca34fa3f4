//! Something worked out from a garment, kept until the garment is another one.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;

use petitoile_core::garment::Garment;

/// The last answer, and for which garment it holds.
pub struct Kept<T>(RefCell<Option<(Arc<Garment>, Rc<T>)>>);

impl<T> Default for Kept<T> {
    fn default() -> Self {
        Self(RefCell::new(None))
    }
}

impl<T> Kept<T> {
    /// The answer for this garment; worked out anew only when it is another one.
    pub fn of(&self, garment: &Arc<Garment>, work_out: impl FnOnce(&Garment) -> T) -> Rc<T> {
        let mut kept = self.0.borrow_mut();
        if let Some((known, answer)) = kept.as_ref()
            && Arc::ptr_eq(known, garment)
        {
            return answer.clone();
        }
        let answer = Rc::new(work_out(garment));
        *kept = Some((garment.clone(), answer.clone()));
        answer
    }
}
