//! What was worked out lately, kept for whoever asks the same again: a house has many sashes alike.

use std::sync::{Mutex, PoisonError};

/// The last answers to questions that have but one answer each, for all threads.
#[derive(Debug)]
pub struct Lately<Q, A> {
    /// The last asked stands first.
    known: Mutex<Vec<(Q, A)>>,
    most: usize,
}

impl<Q: PartialEq, A: Clone> Lately<Q, A> {
    /// Keeps `most` answers.
    pub const fn new(most: usize) -> Lately<Q, A> {
        Lately { known: Mutex::new(Vec::new()), most }
    }

    /// The answer, worked out if it is not known. Two threads that ask at once may both work it out.
    ///
    /// # Errors
    /// That of `answer`; it is not kept.
    pub fn ask<E>(&self, question: Q, answer: impl FnOnce(&Q) -> Result<A, E>) -> Result<A, E> {
        let known = || self.known.lock().unwrap_or_else(PoisonError::into_inner);
        {
            let mut known = known();
            let at = known.iter().position(|(asked, _)| *asked == question);
            if let Some(answer) = at.and_then(|at| known.get_mut(..=at)) {
                answer.rotate_right(1);
            }
            if let Some((_, answer)) = at.and_then(|_| known.first()) {
                return Ok(answer.clone());
            }
        }
        let found = answer(&question)?;
        let mut known = known();
        known.truncate(self.most.saturating_sub(1));
        known.insert(0, (question, found.clone()));
        Ok(found)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_answers_are_kept_and_no_mistake_is() {
        let lately = Lately::new(2);
        let ask = |number: i32| lately.ask(number, |_| Ok::<_, ()>(-number));
        assert_eq!(lately.ask(1, |_| Err("not now")), Err("not now"));
        assert_eq!([1, 2, 1, 3].map(ask), [Ok(-1), Ok(-2), Ok(-1), Ok(-3)]);
        // 1 was asked for after 2.
        assert_eq!(lately.ask(1, |_| Err("again")), Ok(-1));
        assert_eq!(lately.ask(3, |_| Err("again")), Ok(-3));
        assert_eq!(lately.ask(2, |_| Err("again")), Err("again"));
    }
}
