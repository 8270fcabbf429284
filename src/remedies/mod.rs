//! Proved cures: candidates are applied to a copy of the layout, the job is run
//! again, and only what works is offered.
//!
//! A remedy is kept only if, in the changed layout, no finding of the cured
//! kind is left and no `stop` has come that was not there before. Remedies stand
//! in the order of how little they change (see [`Remedy::share`]).

mod fixing;
mod floor;
mod keeps;
mod letterings;
mod margin;
mod place;
mod plate;
mod prove;
mod signed;
mod slots;
mod strokes;
mod together;
mod wording;

pub(crate) use plate::size_text;

use crate::finding::Severity;
use crate::job::Job;
use crate::layout::Layout;

use plate::Growth;
use together::together;

/// One value of the layout file changed: the key, and its new value as TOML.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edit {
    /// Dotted key path, as in [`crate::layout::Keys`].
    pub key: String,
    /// New value in TOML, such as `"62 x 31 mm"` with its quotes.
    pub value: String,
}

/// A change that cures a finding, with its number worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Remedy {
    /// `shorter-wording`, `larger-plate`, `wider-plate`, `taller-plate`,
    /// `less-margin`, `other-lettering`, `further-lettering`, `lower-demand`, `slots`,
    /// `other-place`, `smaller-plate`, `plug-old-holes`, `other-head`, `smaller-screw`,
    /// `thicker-plate`, `shorter-fixing`, `longer-fixing`, `taller-capitals`,
    /// `heavier-weight`, `finer-cutter`, `smaller-photograph` or `as-signed`.
    pub kind: &'static str,
    /// One sentence: what to change, with its number.
    pub message: String,
    /// The change in the layout file.
    pub edits: Vec<Edit>,
    /// How much it changes, from 0: the share of characters taken out, of plate
    /// area added, or of the short side given up as margin; a lettering of the
    /// same look counts as 0.1, another as 0.3, slots 0.1, slots with holes added 0.2,
    /// a heavier weight 0.1, a finer cutter 0.15, taller capitals, or a photograph that leaves
    /// them more, the share of height added;
    /// a plug 0.5, giving up a demand 1; of a fixing another head 0.1, a smaller screw 0.2,
    /// else the share of length or thickness changed (our own weighing); a move in short
    /// sides of the plate; what was signed put back 0.
    pub share: f64,
    /// The changed layout that was proved.
    pub layout: Layout,
}

/// Remedies for one finding.
#[derive(Debug, Clone, PartialEq)]
pub struct Cures {
    /// Index into the job's findings.
    pub finding: usize,
    /// Ranked, the least change first.
    pub remedies: Vec<Remedy>,
}

/// Findings that the fit can cure, as one complaint: too little room.
const ROOM: &[&str] = &["no-room", "below-asked-height", "below-process-height", "hard-to-read"];

/// `stop`s of letters that the cutter cannot make.
const CUT: &[&str] = &["stroke-too-thin", "counter-too-narrow", "gap-too-narrow"];

/// More room: a shorter wording, a larger plate, less margin.
fn room(job: &Job) -> Vec<Remedy> {
    let found = together(&[
        &|| wording::shorter(job),
        &|| plate::larger(job, Growth::Both),
        &|| plate::larger(job, Growth::Width),
        &|| plate::larger(job, Growth::Height),
        &|| margin::less(job).into_iter().collect(),
    ]);
    found.into_iter().flatten().collect()
}

/// All cures of too little room, in no order yet.
fn uncrowded(job: &Job) -> Vec<Remedy> {
    let found = together(&[
        &|| if keeps::takes_all(job) { keeps::remedies(job, room) } else { room(job) },
        &|| letterings::narrower(job),
        &|| floor::lower(job).into_iter().collect(),
    ]);
    found.into_iter().flatten().collect()
}

/// Remedies for every `stop` and caution that comes of too little room, for missing
/// characters, for letters that the cutter cannot make, for fixings that are too deep, too long or too short, and for wood that
/// moves more than its fixings give; and what was signed, where wordings or size are no longer
/// that. Findings that are
/// accepted, and notes, get none.
///
/// All findings of too little room are cured together, so the first of them
/// carries the remedies.
#[must_use]
pub fn cures(job: &Job) -> Vec<Cures> {
    let mut all = Vec::new();
    let open = |code: &str, least: Severity| {
        job.findings.iter().position(|judged| {
            judged.accepted.is_none()
                && judged.finding.code == code
                && judged.finding.severity >= least
        })
    };
    if let Some(finding) = open("missing-character", Severity::Stop) {
        let remedies = letterings::having_all_characters(job);
        all.push(Cures { finding, remedies });
    }
    for (code, least) in fixing::CURED {
        if let Some(finding) = open(code, *least) {
            all.push(Cures { finding, remedies: fixing::remedies(job, code) });
        }
    }
    let cut = CUT.iter().filter_map(|code| open(code, Severity::Stop)).min();
    // Where the plate has no room for what the cutter can make, it is a matter of room.
    let no_room = cut.filter(|_| job.fitted.phi < 1.0);
    let crowded = ROOM.iter().filter_map(|code| open(code, Severity::Caution)).chain(no_room).min();
    let mut cuttable = cut.map_or_else(Vec::new, |_| strokes::remedies(job));
    if let Some(finding) = crowded {
        let mut remedies = uncrowded(job);
        if cut == Some(finding) {
            let known = |remedy: &Remedy| remedies.iter().any(|had| had.edits == remedy.edits);
            let more: Vec<Remedy> = cuttable.drain(..).filter(|remedy| !known(remedy)).collect();
            remedies.extend(more);
        }
        remedies.sort_by(|a, b| a.share.total_cmp(&b.share));
        all.push(Cures { finding, remedies });
    }
    if let Some(finding) = cut.filter(|cut| crowded != Some(*cut)) {
        cuttable.sort_by(|a, b| a.share.total_cmp(&b.share));
        all.push(Cures { finding, remedies: cuttable });
    }
    if let Some(finding) = open("wood-movement", Severity::Caution) {
        let remedies = slots::slots(job);
        if !remedies.is_empty() {
            all.push(Cures { finding, remedies });
        }
    }
    all.extend(place::cures(job));
    if let Some(finding) = open("changed-since-sign-off", Severity::Stop) {
        let remedies: Vec<Remedy> = signed::as_signed(job).into_iter().collect();
        if !remedies.is_empty() {
            all.push(Cures { finding, remedies });
        }
    }
    all
}
