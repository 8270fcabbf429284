//! The layout file: what a user asks for, read strictly, with every mistake
//! told at its own line and column.
//!
//! Text in; a [`Layout`] (as meant, in mm) or a list of [`Diagnostic`]s out.
//! Knows nothing of fitting or drawing.
//!
//! # The keys
//! Lengths are texts with a unit, as [`crate::units::Length::parse`] reads them; a bare
//! number is refused. Words are those of the [`Named`] types, letter for letter. Defaults
//! that are habits of the trade are common practice, no source.
//!
//! | key | holds | without it |
//! | --- | --- | --- |
//! | `ansata` | 1, the version | refused |
//! | `title` | text | refused |
//! | `wording` | path of a text file, in place of `[[line]]` | |
//! | `accept` | list of `{ code, where, measured, reason }` | none |
//! | `[proof]` `number` | 1 to 9999 | 1 |
//! | `replaces`, `client`, `spelling` | text | none |
//! | `date` | a day as ISO 8601 writes it | none |
//! | `signatures` | list of up to 12 texts | none |
//! | `paper` | word of [`Paper`] | the shop's; else Letter where most lengths are in inches, else A4 |
//! | `[plate]` `size` | width x height over all, 5 mm to 2 m | refused; taken from `points` |
//! | `material` | word of [`Material`] | refused |
//! | `shape` | `rectangle`, `rounded`, `notched`, `oval`, `circle`, `arch`, `ansate`, `points` | `rectangle` |
//! | `corner` | radius of the corners (`rounded`), or of the quarter circles cut out of them (`notched`) | refused there |
//! | `rise` | height of the round head (`arch`), at most half the width: less makes it flatter | half the width |
//! | `handles` | `{ width, root, tip, lettering }` of the dovetails (`ansate`): how far each stands out, its height where it joins the tablet and at its end; word of [`HandleLettering`] | in it a quarter of the height (at most a sixth of the width), 0.3 and 0.6 of the height, `between the handles` |
//! | `points` | list of 3 to 200 corners `[x, y]` (`points`), from the top left corner of the box round them, in their order | refused there |
//! | `thickness` | 0.1 to 25 mm | 1 mm |
//! | `finish` | word of [`Finish`] | `polished` |
//! | `bevel` | less than half the short side | 0 mm |
//! | `margin` | length | a twentieth of the short side, at least 3 mm, up to the next 0.5 mm |
//! | `border` | `{ inset, lines, weight, gap, at_holes }`, `inset` required | none; in it 1 line, 0.3 mm, 1 mm (or two weights), `stop short` (`ansate`: `holes outside`, round the tablet) |
//! | `quantity` | 1 to 10,000 | 1 |
//! | `[engraving]` `process`, `cut`, `fill` | words of [`Process`], [`Cut`], [`Fill`] | `rotary`, `incised`, `none` |
//! | `read_from` | 0.1 to 20 m | 400 mm |
//! | `[fit]` `mode`, `ease` | word of [`FitMode`]; `"1 %"` to `"100 %"` | `even`, `"90 %"` |
//! | `[lettering]` `default` | a name, or `{ file, index }` | each line names its own |
//! | `[[line]]` `text` | up to 2000 characters, `\n` is a break that holds | refused |
//! | `size` | 0.05 to 20, relative cap height | 1 |
//! | `cap_height`, `at_least`, `at_most` | lengths; the first alone or neither | none |
//! | `lettering`, `features`, `keep` | a lettering; lists of texts | the default; none |
//! | `align`, `breaks` | words of [`Align`], [`Breaks`] | `centre`; `last resort` up to six words, else `free` |
//! | `space`, `leading` | 0 to 10, 0.5 to 5, in cap heights | 0.35; by the kind of letters |
//! | `[mount]` `fixing` | `{ kind = "wood screw", gauge, head, length }`, `{ kind = "pin", shank, head, length }`, `{ kind = "tape" }` | none |
//! | `holes` | `none`, `four corners`, `two sides`, `top and bottom`, `in the handles`, `{ points = [[x, y], …] }` | `none`; `in the handles` of an `ansate` plate with screws or pins |
//! | `inset` | for hole sets named by a word | 8 mm; in the handles the middle |
//! | `[face]` `size`, `material`, `thickness` | lengths, word of [`FaceMaterial`] | refused |
//! | `place` | `{ from_left or from_right, from_top or from_bottom }` | centred |
//!
//! A `wording` file gives one line for each of its lines that shows something, edge
//! spaces kept; lines that follow each other directly have no space between them beyond
//! leading, those after an empty line have the usual 0.35.

mod diagnostic;
mod model;
mod read;
mod schema;
mod shape;
mod shop;
mod source;

pub use diagnostic::Diagnostic;
pub use model::{
    Acceptance, Align, AtHoles, Border, Breaks, Cut, Engraving, Face, FaceMaterial, Fill, Finish,
    FitMode, FitWishes, FixingAsked, FontFile, Head, HolesAsked, Layout, LetteringChoice, Line,
    Material, Mount, Named, Paper, Place, Plate, Process, ProofNotes, Reading,
};
pub use read::{Companions, Vocabulary, read};
pub use schema::{layout_schema, shop_schema};
pub use shape::{HandleLettering, HandleSize, Handles, Shape};
pub use shop::{Shop, read_shop};
pub use source::{Keys, Position, Source};
