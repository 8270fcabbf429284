//! The way through, as one short function: what was asked goes in, everything
//! known about the plaque comes out. Command line and remedies both call it, so
//! that they cannot differ. Knows nothing of files or terminals.

mod accept;
mod arrange;
mod chosen;
mod credit;
mod cut;
mod laid;
mod lines;
mod mark;
mod narrow;
mod photos;
mod sign_off;
mod trace;

use crate::checks::{self, Facts};
use crate::decoration::Placed;
use crate::finding::{Finding, Scope, Severity};
use crate::fit::Fitted;
use crate::layout::{Diagnostic, Layout, PhotoSize, PhotoStands, Source};
use crate::lettering::ShapedLine;
use crate::mount::{self, MountPlan};
use crate::photo::{PlacedPhoto, Standing};
use crate::plate::{ClearZone, Field};

use laid::{Ground, Laid};

pub use arrange::Placing;
pub use chosen::{PlacingKeys, chosen_few, written};
pub use cut::{Cut, CutBorder, CutGlyph, CutHole, CutPhoto};
pub use mark::MARK_LENGTH;
pub use sign_off::{Agreed, PutBack, SignOff, Signature};
pub use trace::{Spot, Step, Trace, millimetres};

/// A finding, and whether the layout accepts it by name.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// The finding.
    pub finding: Finding,
    /// The reason given, where it is accepted.
    pub accepted: Option<String>,
}

impl Judged {
    /// Whether the layout could accept it by name: a `stop` or caution that is not accepted yet
    /// and is not of the kinds that never can be.
    #[must_use]
    pub fn can_be_accepted(&self) -> bool {
        let Self { finding, accepted } = self;
        let of_itself = finding.scope == Scope::SignOff || accept::never(finding.code);
        accepted.is_none() && finding.severity > Severity::Note && !of_itself
    }

    /// Whether this is a `stop` that nobody has accepted.
    #[must_use]
    pub fn stops(&self) -> bool {
        self.finding.severity == Severity::Stop && self.accepted.is_none()
    }
}

/// Everything known about one plaque: what was asked, what fits, what was noticed.
#[derive(Debug, Clone)]
pub struct Job {
    /// What was asked.
    pub layout: Layout,
    /// Shaped lines, as in the layout.
    pub lines: Vec<ShapedLine>,
    /// Where lettering may stand.
    pub field: Field,
    /// Clear zones of holes and of a border that turns in round them.
    pub zones: Vec<ClearZone>,
    /// Holes and face.
    pub mount: MountPlan,
    /// Every glyph placed.
    pub fitted: Fitted,
    /// Photographs in their places.
    pub photos: Vec<PlacedPhoto>,
    /// All that is engraved beside lettering and border: ornaments in the corners, then
    /// drawings in the inscription from the top down.
    pub decoration: Vec<Placed>,
    /// What was noticed, in the order of print.
    pub findings: Vec<Judged>,
    /// What is cut.
    pub cut: Cut,
    /// The proof mark of it: [`MARK_LENGTH`] characters.
    pub mark: String,
    /// Who signed for what is cut, where anyone has.
    pub signed: Option<SignOff>,
}

impl Job {
    /// Whether files of this scope are withheld: a `stop` of the scope that
    /// nobody has accepted. Wording and lettering share the artwork.
    #[must_use]
    pub fn withholds(&self, scope: Scope) -> bool {
        self.findings.iter().any(|judged| judged.stops() && judged.finding.scope == scope)
    }

    /// Whether artwork is withheld: by a `stop` of the wording, of the lettering, of an emblem
    /// that is another's, or of the sign-off, which concerns everything that is cut.
    #[must_use]
    pub fn withholds_artwork(&self) -> bool {
        let scopes = [Scope::Wording, Scope::Lettering, Scope::Photo, Scope::SignOff];
        scopes.iter().any(|scope| self.withholds(*scope))
    }

    /// Whether pattern and drilling sheets are withheld: by a `stop` of the mount or of the
    /// sign-off.
    #[must_use]
    pub fn withholds_pattern(&self) -> bool {
        [Scope::Mount, Scope::SignOff].iter().any(|s| self.withholds(*s))
    }

    /// Whether any `stop` stands.
    #[must_use]
    pub fn stopped(&self) -> bool {
        self.findings.iter().any(Judged::stops)
    }
}

/// The way through.
///
/// # Errors
/// Lettering that cannot be opened, told at the key that names it. The source
/// of these diagnostics is empty; the caller knows the file's name and text and
/// puts them in by [`at_source`].
pub fn job(layout: &Layout) -> Result<Job, Vec<Diagnostic>> {
    let layout = &*mount::sized(layout);
    let mount = mount::plan(layout);
    let ground = Ground::of(layout, &mount)?;
    let laid = ground.laid(&arrange::stands(&ground));
    Ok(seen(layout, &ground, laid))
}

/// The same, if every line keeps its floor: quicker to tell where one does not. `None` also
/// where lettering cannot be opened.
#[must_use]
pub fn job_if_kept(layout: &Layout) -> Option<Job> {
    let layout = &*mount::sized(layout);
    let mount = mount::plan(layout);
    let ground = Ground::of(layout, &mount).ok()?;
    let laid = ground.laid_if_kept(&arrange::stands(&ground))?;
    Some(seen(layout, &ground, laid))
}

/// The job of what is laid out: what is noticed of it, what is cut, and the mark of that.
fn seen(layout: &Layout, ground: &Ground<'_>, laid: Laid) -> Job {
    let mount = ground.mount;
    let Laid { photos, zones, field, lines, fitted } = &laid;
    let decoration = placed(ground.corners.clone(), lines, fitted);
    let facts =
        Facts { layout, lines, field, zones, mount, fitted, photos, decoration: &decoration };
    let findings = accept::judged(checks::findings(&facts), &layout.accepted, &layout.keys);
    let cut = cut::cut(&facts);
    let mark = cut.mark();
    let Laid { photos, zones, field, lines, fitted } = laid;
    Job {
        layout: layout.clone(),
        lines,
        field,
        zones,
        mount: mount.clone(),
        fitted,
        photos,
        decoration,
        findings,
        cut,
        mark,
        signed: None,
    }
}

/// Ways to place one photograph of a layout (its index from 0), the best first, each with the
/// layout that asks for it: at every side of the field as large as the wording allows and
/// smaller, and of the size that is asked. Only such in which every line keeps its floor and
/// nothing stands in the photograph's way; none where there is no such photograph.
///
/// # Errors
/// As [`job`].
pub fn placings(layout: &Layout, photo: usize) -> Result<Vec<(Placing, Layout)>, Vec<Diagnostic>> {
    let layout = &*mount::sized(layout);
    let mount = mount::plan(layout);
    let ground = Ground::of(layout, &mount)?;
    let all = arrange::placings(&ground, photo);
    Ok(all.into_iter().map(|placing| (placing, placed_so(layout, photo, &placing))).collect())
}

/// The layout that asks for a placing.
fn placed_so(layout: &Layout, photo: usize, placing: &Placing) -> Layout {
    let mut layout = layout.clone();
    if let Some(photo) = layout.photos.get_mut(photo) {
        photo.stands = match placing.stand.spot {
            Standing::Side(side) => PhotoStands::Side(side),
            Standing::At(x, y) => PhotoStands::At(x, y),
        };
        photo.size = PhotoSize::Both(placing.stand.width, placing.stand.height);
    }
    layout
}

/// All decoration where it stands.
fn placed(corners: Vec<Placed>, lines: &[ShapedLine], fitted: &Fitted) -> Vec<Placed> {
    let mut all = corners;
    all.extend(fitted.rows.iter().filter_map(|row| {
        let ornament = lines.get(row.line)?.ornament.as_ref()?;
        Some(Placed::in_row(row.line, ornament, (row.origin_x, row.baseline), row.cap_height))
    }));
    all
}

/// Diagnostics of [`job`] with the layout's own name and text put in.
#[must_use]
pub fn at_source(diagnostics: Vec<Diagnostic>, source: &Source) -> Vec<Diagnostic> {
    diagnostics.into_iter().map(|d| Diagnostic { source: source.clone(), ..d }).collect()
}
