//! Things to choose from, with their pictures.
use super::wire::Choice;
use crate::job::Job;
pub(super) fn letterings(_: &Job, _: Option<usize>) -> Vec<Choice> {
    Vec::new()
}
pub(super) fn placings(_: &Job, _: usize) -> Vec<Choice> {
    Vec::new()
}
pub(super) fn fixings(_: &Job) -> Vec<Choice> {
    Vec::new()
}
pub(super) fn sizes(_: &Job) -> Vec<Choice> {
    Vec::new()
}
