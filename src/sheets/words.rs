//! Every fixed sentence of the sheets.

mod agreed;
mod details;

use crate::checks::ThinPart;
use crate::finding::{Place, Quantity, Scope};
use crate::floors::Whose;
use crate::units::digits::{fixed, trimmed};
use crate::units::inch::nearest_64th;

pub(super) use agreed::{
    CHANGES, ENLARGED, LAID_OVER, NEW_LINE, NOT_CUT, NOTHING_DIFFERS, OLD_LINE, OVER_NEW, OVER_OLD,
    line_enlarged, scaled, signed_by, signed_for_this, signed_off, signed_off_in_full,
};
pub(super) use details::{corner, smallest_row};

/// What the check bar is, for who cannot see it.
pub(super) const BAR_TOLD: &str = "Check bar: 100 mm on one side, 4 in on the other";
/// Over ways to place a photograph.
pub(super) const PLACINGS: &str = "Each keeps every line at its floor or above. The order is our \
    own: letters count three times, the photograph twice, even white and a middle that is the \
    plate\u{2019}s once each. Choose by looking.";
/// Under the check bar of any sheet.
pub(super) const BAR: &str = "True size only if printed at 100 %. Measure this bar with a rule: \
    100 mm on its upper side, 4 in on its lower side.";
/// Beside the bars of a pattern. `drilled`: whether it is drilled by; `corrected`: whether
/// it was made for one printer.
pub(super) fn measure_first(drilled: bool, corrected: bool) -> String {
    format!(
        "Measure both bars before you {}. If one is off by 0.5 mm (1/64 in) or more, {}.",
        if drilled { "drill" } else { "place the plate" },
        if corrected {
            "this is not that printer or not those settings: begin again with the pattern as it \
             is, not corrected"
        } else {
            "print again at 100\u{a0}%"
        }
    )
}

/// How tiles are joined.
pub(super) const JOINING: [&str; 4] = [
    "Print every page at 100 %, not fitted to the page. Measure both bars on each tile.",
    "Lay tile 1 down. Take the next: cut along its thick dash-dot line with knife and rule.",
    "Lay the cut edge on the same line of the tile before it, mark on mark: the halves of every \
     crossed circle make a whole, A on A, B on B. Tape the joint.",
    "Go on tile by tile along the row, then row by row.",
];
/// Where the drawing needs a page for itself.
pub(super) const ALONE: &str = "The drawing at true size stands on a page of its own, behind these \
    pages.";
/// Under the key plan.
pub(super) const KEY_PLAN: &str =
    "Key plan, not to scale: how the tiles lie, with plate and holes.";

/// What an edge of the face across the sheet is for.
pub(super) const FOLDING: &str = "Where a dash-dot-dot edge of the face runs across the sheet, \
    fold the paper sharply over the edge along it, and tape the flap to the side. Where no edge \
    shows, cut the paper off or let it lie flat.";
/// How windows are used.
pub(super) const WINDOWS: &str = "Cut out the windows marked tape, and tape the paper to the face \
    through them. On a sheet without windows tape its edges.";
/// What tape does to a finish.
pub(super) const LOW_TACK: &str = "Low-tack tape only, tried first where it will not show. Never on \
    lacquer, paint, oil or wax that is not fully cured (ask its maker how long that takes): tape \
    marks it or lifts it. Pull the tape off slowly, folded back flat on itself.";

/// Where zero of one or both axes is not on the sheet.
pub(super) fn zero_off(axes: &[String]) -> String {
    format!(
        "Three dots: zero lies off this sheet ({}); measure from it on the trophy itself.",
        listed(axes)
    )
}

/// The banner over a proof with a stop.
pub(super) const STOP: &str = "STOP \u{2013} do not make this";
/// Under the banner; `scopes` in words.
pub(super) fn stop_scopes(scopes: &[Scope]) -> String {
    let word = |scope: &Scope| match scope {
        // The one thing of this scope that there is.
        Scope::Photo => "photograph or emblem".to_owned(),
        scope => scope.to_string(),
    };
    let words: Vec<String> = scopes.iter().map(word).collect();
    let pattern = [Scope::Mount, Scope::SignOff].iter().any(|scope| scopes.contains(scope));
    let withheld = match scopes {
        [Scope::Mount] => "The mount pattern is withheld.",
        _ if pattern => "The artwork and the mount pattern are withheld.",
        _ => "The artwork is withheld.",
    };
    format!("It concerns the {}. {withheld} See \u{201c}Findings\u{201d}.", listed(&words))
}

/// `a`, `a and b`, `a, b and c`.
pub(super) fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [head @ .., last] => format!("{} and {last}", head.join(", ")),
    }
}

/// What is not checked in this version.
pub(super) const STROKES: &str = "Thinnest strokes were measured on the outlines, but no cutter is \
    told: whether they and the smallest openings of the letters can be cut is for the engraver to \
    judge.";
/// What is checked where a cutter is told.
pub(super) const STROKES_CHECKED: &str = "Strokes, counters and gaps of the letters were measured \
    on their outlines and checked against the cutter and the least land named under Plate. What \
    the cutter makes of their corners is shown under As cut.";
/// Above the picture of the engraving as cut; `missed` is what is out of reach, per cent of
/// the letters' area.
pub(super) fn as_cut(incised: bool, width: &str, missed: f64) -> String {
    let made = if incised {
        "Strokes thinner than that are not cut, and corners come out as round as the tool is."
    } else {
        "Counters and gaps narrower than that stay filled, and corners between strokes come out as \
         round as the tool is."
    };
    let missed = match missed {
        missed if missed < 0.05 => "under 0.1".to_owned(),
        missed => trimmed(missed, 1),
    };
    let reach = if incised {
        format!("Of the letters' area {missed} % is out of its reach.")
    } else {
        format!("What it cannot reach of the ground comes to {missed} % of the letters' area.")
    };
    format!("What a tool leaves that cuts {width} mm wide, at true size. {made} {reach}")
}
/// Where a wording is too long to be drawn whole once more.
pub(super) const AS_CUT_ROWS: &str = "Only the rows of the places enlarged are drawn: the wording \
    is longer than is drawn twice.";
/// What the tones of that picture mean: removed, missed, left, and the circle.
pub(super) fn as_cut_key(incised: bool) -> [&'static str; 4] {
    const NEEDED: &str = "the width needed, at the place measured";
    if incised {
        ["removed", "drawn, but out of the cutter's reach", "metal left", NEEDED]
    } else {
        ["ground removed", "ground out of the cutter's reach", "letters left standing", NEEDED]
    }
}
/// Above the places enlarged: how many of how many are too narrow.
pub(super) fn enlarged(shown: usize, failing: usize) -> String {
    match failing {
        0 => "Enlarged: where it comes nearest to being too narrow, and is not.".to_owned(),
        1 => "Enlarged: the place that is too narrow.".to_owned(),
        _ if failing == shown => format!("Enlarged: the {failing} places that are too narrow."),
        _ => format!(
            "Enlarged: of {failing} places that are too narrow the {shown} worst; a letter that \
             has the same in several lines is shown once."
        ),
    }
}
/// Beneath a place enlarged.
pub(super) fn enlarged_place(part: &ThinPart, scale: &str) -> String {
    let least = trimmed(part.need.least, 3);
    let needed = match part.need.whose {
        Whose::Cutter => format!("the cutter needs {least} mm"),
        Whose::Layout | Whose::Shop => format!("the least land is {least} mm"),
        Whose::Usual => format!("{least} mm is usual for land"),
    };
    format!(
        "{scale} : 1. Line {}: the {}, {}, is {} mm wide; {needed}.",
        part.line + 1,
        part.kind.what(),
        part.whose(),
        fixed(part.letters.width, 3),
    )
}
/// Where nothing was found.
pub(super) const NO_FINDINGS: &str = "Nothing was noticed that speaks against making this plaque.";
/// Under the table of lines where a row was too long for its column.
pub(super) const ROWS: &str = "Every row of the plaque starts at the left of the column; a row \
    that is too long for the column goes on indented.";
/// For a line that stands nowhere on the plate.
pub(super) const NOT_PLACED: &str = "not placed: there is no room for lettering";

/// Who answers for the spelling, where nobody is named.
pub(super) const SPELLING: &str = "Whoever signs for the client answers for spelling, names and \
    dates.";
/// The same with a name.
pub(super) fn spelling(who: &str) -> String {
    format!("Answerable for spelling, names and dates: {who}.")
}
/// Before the boxes.
pub(super) const CHECK: &str = "Please read every row aloud against your own papers, letter by \
    letter, before you sign.";
/// What a signature is for.
pub(super) fn signed_for(number: u32, mark: &str) -> String {
    format!(
        "What is signed is what will be engraved: all pages of proof {number}, proof mark {mark}."
    )
}
/// With an open stop, before the boxes.
pub(super) const STOP_STANDS: &str = "A stop stands open on this proof. A signature does not lift \
    it: ask for a new proof.";
/// The three boxes.
pub(super) const APPROVED: &str = "Approved as shown";
/// The second.
pub(super) const APPROVED_WITH: &str = "Approved with the changes written below";
/// The third.
pub(super) const NOT_APPROVED: &str = "Not approved, new proof wanted";
/// Roles that sign where the layout names none.
pub(super) const ROLES: [&str; 2] = ["For the client", "For the engraver"];

/// How a specimen is read.
pub(super) const SPECIMEN: &str = "The same wording in each lettering, at one height of its \
    capitals and broken alike: only the letters differ. Choose by number. Widths are those of the \
    widest row at this height.";
/// A height that the page does not hold.
pub(super) fn lowered(asked: f64) -> String {
    format!("{} were asked for: more than this page holds.", both(false, asked))
}
/// Over letterings that are not shown.
pub(super) const LEFT_OUT: &str = "Left out, because they lack a character";
/// Characters with their code points, the first of many.
pub(super) fn characters(all: &[char], most: usize) -> String {
    // The code point first: so a list of right-to-left letters keeps its order.
    let one = |c: &char| format!("U+{:04X}\u{a0}{c}", u32::from(*c));
    let named = all.iter().take(most).map(one).collect::<Vec<_>>().join(", ");
    match all.len().saturating_sub(most) {
        0 => named,
        more => format!("{named} and {more} more"),
    }
}

/// How the weight was got.
pub(super) const WEIGHT: &str = "from area, thickness and density; nothing taken off for holes, \
    bevel and letters";

/// Cautions of every pattern with holes, in our words; the agencies' titles stand with
/// them. `noun` is what the face is called; `dust` whether wood is drilled.
pub(super) fn drilling_cautions(noun: &str, dust: bool) -> Vec<String> {
    let mut all = vec![
        "Wear eye protection. Clamp the plate and the trophy; no gloves or loose sleeves near a \
         turning drill."
            .to_owned(),
        "Drilled edges and swarf cut: clear chips with a brush, deburr both sides. Brass grabs as \
         the drill breaks through: back the plate with wood and slow the feed."
            .to_owned(),
    ];
    if dust {
        all.push(
            "Fine wood dust harms lungs and nose: take it off at the tool, vacuum it, do not blow \
             or sweep (UK HSE, \u{201c}Wood dust\u{201d}; OSHA, \u{201c}Safety and Health \
             Guideline for Wood Dust\u{201d})."
                .to_owned(),
        );
    }
    all.push(format!(
        "Check how thick the {noun} really is, and look for old holes and hollow places, before \
         you set the depth stop. Drill a scrap of the same {} first.",
        if dust { noun } else { "kind" }
    ));
    all.extend([LOCAL_CODES.to_owned(), LICENSED.to_owned()]);
    all
}
/// Local rules come first.
pub(super) const LOCAL_CODES: &str = "Follow your local codes and your shop's own safety rules: where they \
    ask for more than this sheet, they hold.";
const LICENSED: &str = "For a heavy plate, or for one that hangs on a wall over people, ask a \
    licensed professional about the fixing.";

/// More of them, by what the face is. Common practice, no source.
pub(super) const BOARD: &str = "Board splits near its edge and holds screws less well than wood: \
    always drill the pilot, keep away from edges, stop turning when the head seats.";
pub(super) const VENEER: &str = "Veneer lifts and chips where a drill enters: tape over the mark, \
    use a sharp drill or cut the rim with a knife first.";
pub(super) const RESIN: &str = "Resin melts, grabs and cracks: drill slowly, clear the drill \
    often, force nothing; its dust and fumes harm.";
pub(super) const HOLLOW: &str = "A hollow face holds only in its wall: measure the wall, and stop \
    where the drill breaks through. Look for wires and pipes behind a wall of a building.";
pub(super) const METAL_FACE: &str = "Punch before drilling metal, clamp the work, keep cutting \
    fluid off skin and eyes.";
pub(super) const GLUE: &str = "Glues harm by skin and breath: read the label, gloves on, air the \
    room.";

/// Cautions for a plate that is stuck on.
pub(super) const STICKING: [&str; 5] = [
    "Stick on a clean, dry, even surface: wax, oil and fresh lacquer let tape go. Try it on a \
     hidden spot first; it may lift a finish.",
    "Solvents for cleaning harm by breath and skin and burn easily: use them outdoors or with a \
     fan, away from flame, and read their label.",
    "Edges of thin plate cut: deburr them before you press the plate down.",
    "Tape alone holds light plates only. For a heavy plate, or for one that hangs on a wall over \
     people, ask a licensed professional about the fixing.",
    "Follow your local codes and your shop's own safety rules: where they ask for more than this \
     sheet, they hold.",
];

/// The first method: paper places the plate, the plate places the holes. Steps, `work` of
/// the fixing at their end, and the ground. `hard`: metal or stone;
/// `deep`: whether a hole ends inside the face; `by_mark`: whether a mark sets the plate.
pub(super) fn first_method(
    noun: &str,
    (hard, deep): (bool, bool),
    by_mark: bool,
    work: &[&str],
) -> (Vec<String>, String) {
    let mut steps = vec![
        line_up(by_mark).to_owned(),
        "Drill the plate first (plate drilling sheet). Tape or clamp it on its outline on the \
         paper."
            .to_owned(),
        format!(
            "Mark the {noun} through the holes of the plate with a transfer punch{} that fills \
             the hole.",
            if hard { "" } else { " or a self-centring bit" }
        ),
        if deep { DRILL } else { DRILL_THROUGH }.to_owned(),
    ];
    steps.extend(work.iter().map(|text| (*text).to_owned()));
    let ground = format!(
        "Why: plate and {noun} then agree, whatever error the plate has; paper alone stacks two \
         errors."
    );
    (steps, ground)
}
/// How the paper comes to lie on the face, by a mark or by what it is measured from.
pub(super) fn line_up(by_mark: bool) -> &'static str {
    if by_mark {
        "Set the small thick circle on the mark, the lines through it level and upright on the \
         trophy; tape the paper down flat."
    } else {
        "Line the centre lines or the face's edges, whichever pass the small circles of zero, up \
         with the trophy; tape the paper down flat."
    }
}
const DRILL: &str = "Take plate and paper off and drill at the marks, with the depth stop set as \
    the table says.";
const DRILL_THROUGH: &str = "Take plate and paper off and drill at the marks, square to the face, \
    right through.";
/// With studs: they mark the paper before it goes on the face.
pub(super) fn stud_method(noun: &str, point: &str, by_mark: bool, work: &[&str]) -> Vec<String> {
    let mut steps = vec![
        "Set the studs in the plate's back first (plate drilling sheet).".to_owned(),
        "Lay this sheet on a soft board, the plate on its outline, and press: the studs mark the \
         paper where they truly stand. Where a mark is off its crossing lines, the mark holds."
            .to_owned(),
        line_up(by_mark).to_owned(),
        format!("Prick every mark into the {noun} with {point}; take the paper off."),
        "Drill at the pricks, square to the face, with the depth stop set as the table says."
            .to_owned(),
    ];
    steps.extend(work.iter().map(|text| (*text).to_owned()));
    steps
}
/// The second method; `point` is what pricks the face.
pub(super) fn second_method(point: &str) -> String {
    format!(
        "If the plate cannot be had yet: tape the paper down as in step 1, prick every hole centre \
         with {point} through the crossing lines, and drill at the pricks. Expect to ease a hole \
         or two."
    )
}
/// How a pattern without holes is used, once it lies on the face.
pub(super) const PLACING: [&str; 2] = [
    "Cut the plate's outline out of the taped paper with a sharp knife, without marking the face: \
     the paper left standing is the stop for the plate.",
    "Peel the backing, set one long edge against the paper, let the plate down and press it from \
     the middle outwards. Take the paper away.",
];

/// Beside a mock-up.
pub(super) const MOCK_UP: &str = "MOCK-UP \u{2013} not for drilling";
/// How a mock-up is used.
pub(super) const MOCK_UP_USE: &str = "Cut it out along the edge of the plate and hold it against \
    the face to judge its size and place. Colours only suggest the material.";

/// A length in mm, two decimals at most.
pub(super) fn mm(value: f64) -> String {
    format!("{} mm", trimmed(value, 2))
}

/// A length in decimal inches, three decimals.
pub(super) fn inches(value: f64) -> String {
    format!("{} in", fixed(value / 25.4, 3))
}

/// `120 mm (4.724 in)`; the other way round where the layout is in inches.
pub(super) fn both(inches_first: bool, value: f64) -> String {
    if inches_first {
        format!("{} ({})", inches(value), mm(value))
    } else {
        format!("{} ({})", mm(value), inches(value))
    }
}

/// The nearest 64th of an inch, such as `1 3/16 in`.
pub(super) fn vulgar(value: f64) -> String {
    nearest_64th(value).text
}

/// The nearest 64th of an inch with how far it is off: `2 3/64 in \u{2013}0.02`; without
/// where that is less than half a hundredth of a mm.
pub(super) fn vulgar_with_error(value: f64) -> String {
    let near = nearest_64th(value);
    let off = fixed(near.error_mm.abs(), 2);
    match near.error_mm {
        error if error.abs() < 0.005 => near.text,
        error if error < 0.0 => format!("{}, {off} mm short", near.text),
        _ => format!("{}, {off} mm over", near.text),
    }
}

/// An amount as printed in a finding.
pub(super) fn amount(quantity: Quantity) -> String {
    match quantity.unit {
        "" => trimmed(quantity.value, 2),
        "%" => format!("{} %", trimmed(quantity.value, 1)),
        unit => format!("{} {unit}", fixed(quantity.value, 2)),
    }
}

/// What a finding stands at, for people; `None` for the plaque as a whole.
pub(super) fn place(place: &Place) -> Option<String> {
    match (place.line, place.hole) {
        (Some(line), _) => Some(format!("Line {}", line + 1)),
        (None, Some(hole)) => Some(format!("Hole {}", hole + 1)),
        (None, None) => None,
    }
}

/// How old holes in wood and board are dealt with: common practice, no source.
pub(super) const OLD_HOLES_PLUGGED: [&str; 2] = [
    "A hole that is in the way, or too wide to be used again, is plugged: drill it clean and round \
     to the size of a plug or dowel of hardwood, glue that in, let the glue set a day, cut it level; \
     a new hole there is marked and drilled only then.",
    "No filler bears a load: neither putty, wax nor dust with glue holds a screw or a pin. A chip of \
     wood pushed in loose does not either.",
];

/// How old holes in what takes no plug are dealt with: common practice, no source.
pub(super) fn old_holes_left(noun: &str) -> String {
    format!(
        "A hole that is in the way, or too wide to be used again, stays as it is: no plug, filler \
         or glue makes {noun} whole again for a fixing. Move the plate."
    )
}

/// What to try over old holes: common practice, no source.
pub(super) const OLD_HOLES_HIDDEN: &str = "Try the plate or the paper plaque over old holes and faded finish before you drill: what is to \
     be hidden must be hidden from every side that it is looked at.";
