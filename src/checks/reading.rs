//! Whether a line can be read from where its reader stands.

use crate::finding::{Finding, Quantity, Scope, Severity};
use crate::lettering::BodyKind;
use crate::units::digits::fixed;

use super::{EQUAL_MM, Facts, at_line};

const SOURCE: &str = "US NRC, NUREG-0700 rev. 3, guideline 11.4.1.5-1 (15 and 20 minutes of arc)";

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    if facts.fitted.rows.is_empty() {
        return found;
    }
    for (index, (line, fitted)) in facts.lines.iter().zip(&facts.fitted.lines).enumerate() {
        let (Some(body), Some(least), Some(preferred)) =
            (line.body, fitted.floor.wish, fitted.floor.preferred)
        else {
            continue;
        };
        let (code, severity, required, minutes) = if fitted.cap_height < least - EQUAL_MM {
            ("hard-to-read", Severity::Caution, least, 15)
        } else if fitted.cap_height < preferred - EQUAL_MM {
            ("below-preferred-size", Severity::Note, preferred, 20)
        } else {
            continue;
        };
        let kind = match body.kind {
            BodyKind::Capitals => "capitals",
            BodyKind::LowerCase => "lower-case letters",
            BodyKind::Figures => "figures",
            BodyKind::SmallCapitals => "small capitals",
            BodyKind::Uncased => "letters",
        };
        let distance = facts.layout.engraving.reading.distance;
        found.push(Finding {
            code,
            severity,
            scope: Scope::Lettering,
            place: at_line(index, ""),
            message: format!(
                "Line {}: its {kind} are {} mm high; read from {} mm they should be at least {} mm ({minutes} minutes of arc).",
                index + 1,
                fixed(fitted.cap_height * body.ratio, 2),
                fixed(distance, 0),
                fixed(required * body.ratio, 2),
            ),
            measured: Some(Quantity::mm(fitted.cap_height * body.ratio)),
            required: Some(Quantity::mm(required * body.ratio)),
            rule: format!("{minutes} minutes of arc at the reading distance"),
            source: SOURCE.to_owned(),
        });
    }
    found
}
