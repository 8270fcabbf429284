//! Shorter wording: how many characters must go from which line.

use unicode_segmentation::UnicodeSegmentation;

use crate::job::Job;
use crate::layout::{Hyphens, Layout, Named};

use super::prove::has_room;
use super::{Edit, Remedy};

/// How many lines are offered as the one to shorten.
const OFFERED: usize = 2;

/// For each line, the longest beginning that ends with a word and cures; the
/// lines that lose the fewest characters first.
pub(super) fn shorter(job: &Job) -> Vec<Remedy> {
    let total: usize = job.layout.lines.iter().map(|line| line.text.graphemes(true).count()).sum();
    let mut remedies: Vec<(usize, Remedy)> = (0..job.layout.lines.len())
        .filter_map(|index| {
            let (lost, layout) = longest_beginning(job, index)?;
            Some((lost, remedy(job, index, lost, total, layout)))
        })
        .collect();
    remedies.sort_by_key(|(lost, _)| *lost);
    remedies.into_iter().take(OFFERED).map(|(_, remedy)| remedy).collect()
}

/// Bisects over word ends, then proves the one found: characters lost, and the layout.
fn longest_beginning(job: &Job, index: usize) -> Option<(usize, Layout)> {
    let text = &job.layout.lines.get(index)?.text;
    let ends = word_ends(text);
    let cut = |end: usize| {
        let mut changed = job.layout.clone();
        let line = changed.lines.get_mut(index)?;
        line.text = text.get(..end)?.to_owned();
        line.keep.retain(|kept| line.text.contains(kept.as_str()));
        Some(changed)
    };
    let cures = |end: usize| cut(end).is_some_and(|changed| has_room(job, &changed));
    let first = *ends.first()?;
    if !cures(first) {
        return None;
    }
    let (mut fits, mut over) = (0, ends.len());
    while over - fits > 1 {
        let middle = usize::midpoint(fits, over);
        if ends.get(middle).is_some_and(|end| cures(*end)) {
            fits = middle;
        } else {
            over = middle;
        }
    }
    let end = *ends.get(fits)?;
    let lost = text.get(end..)?.graphemes(true).count();
    (lost > 0).then_some(())?;
    Some((lost, cut(end)?))
}

/// Ends of words, as byte offsets, the whole text's end left out: what follows
/// an end is white space.
fn word_ends(text: &str) -> Vec<usize> {
    let mut ends = Vec::new();
    let mut before: Option<char> = None;
    for (offset, character) in text.char_indices() {
        if character.is_whitespace() && before.is_some_and(|c| !c.is_whitespace()) {
            ends.push(offset);
        }
        before = Some(character);
    }
    if text.ends_with(char::is_whitespace) {
        ends.pop();
    }
    ends
}

fn remedy(job: &Job, index: usize, lost: usize, total: usize, layout: Layout) -> Remedy {
    let kept = layout.lines.get(index).map(|line| line.text.clone()).unwrap_or_default();
    let last = kept.split_whitespace().last().unwrap_or_default().to_owned();
    Remedy {
        kind: "shorter-wording",
        message: format!(
            "Shorten line {} by about {lost} characters: it fits up to \u{201c}{last}\u{201d}.",
            index + 1
        ),
        edits: edits(job, index, &layout),
        share: share(lost, total),
        layout,
    }
}

/// The shorter text, and what else the line says that could not stand beside it: words
/// kept that it no longer has, hyphens at soft hyphens that it no longer has.
fn edits(job: &Job, index: usize, layout: &Layout) -> Vec<Edit> {
    let (Some(before), Some(line)) = (job.layout.lines.get(index), layout.lines.get(index)) else {
        return Vec::new();
    };
    let key = |name: &str| format!("line.{}.{name}", index + 1);
    let mut edits =
        vec![Edit { key: key("text"), value: toml::Value::String(line.text.clone()).to_string() }];
    if line.keep != before.keep {
        edits.push(Edit {
            key: key("keep"),
            value: toml::Value::from(line.keep.clone()).to_string(),
        });
    }
    let says = layout.keys.exact(&key("hyphens")).is_some();
    if says && line.hyphens == Hyphens::AtSoftHyphens && !line.text.contains('\u{AD}') {
        let never = toml::Value::from(Hyphens::Never.word());
        edits.push(Edit { key: key("hyphens"), value: never.to_string() });
    }
    edits
}

#[expect(clippy::cast_precision_loss, reason = "wordings are far shorter than 2^52 characters")]
fn share(lost: usize, total: usize) -> f64 {
    lost as f64 / total.max(1) as f64
}

#[cfg(test)]
mod tests {
    use super::word_ends;

    #[test]
    fn words_end_where_white_space_begins() {
        assert_eq!(word_ends("Ring the  bells"), vec![4, 8]);
        assert_eq!(word_ends("Bells "), Vec::<usize>::new());
        assert_eq!(word_ends(""), Vec::<usize>::new());
    }
}
