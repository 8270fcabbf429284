//! Searches side by side: each proves its candidates by whole jobs, and none needs another.

use std::panic;
use std::thread::{self, Builder};

/// Stack of a thread: as the first one of a program mostly has, for searches go deeper with
/// every line.
const STACK: usize = 8 << 20;

/// What searches find, in the order of the searches, however long each takes. Each has a thread
/// of its own, or this one where no more can be had.
pub(super) fn together<T: Send>(searches: &[&(dyn Fn() -> T + Sync)]) -> Vec<T> {
    thread::scope(|scope| {
        let begin = |search| Builder::new().stack_size(STACK).spawn_scoped(scope, search).ok();
        let begun: Vec<_> = searches.iter().map(|search| (search, begin(*search))).collect();
        let ended = begun.into_iter().map(|(search, thread)| match thread {
            Some(thread) => thread.join().unwrap_or_else(|what| panic::resume_unwind(what)),
            None => search(),
        });
        ended.collect()
    })
}

#[cfg(test)]
mod tests {
    use std::sync::{Condvar, Mutex};
    use std::time::Duration;

    use super::together;

    #[test]
    fn what_is_found_stands_in_the_order_of_the_searches() {
        // The second is done only when the first has begun, and the other way round: they do
        // run side by side.
        let (begun, more) = (Mutex::new(0), Condvar::new());
        let meet = |found: &'static str| {
            let mut count = begun.lock().unwrap();
            *count += 1;
            more.notify_all();
            let long = Duration::from_secs(60);
            let met = more.wait_timeout_while(count, long, |count| *count < 2).unwrap();
            assert!(!met.1.timed_out(), "{found} ran alone");
            found
        };
        let found = together(&[&|| meet("first"), &|| meet("second"), &|| "third"]);
        assert_eq!(found, ["first", "second", "third"]);
        assert!(together::<u8>(&[]).is_empty());
    }
}
