//! A path as the text of SVG's `d`: whole micrometres, written without floats.
//!
//! Every place is rounded to 0.001 mm first and the steps are taken between the
//! rounded places, so that no error adds up along an outline. Each contour
//! starts at its place on the page; the rest of it is written as steps, which
//! is about half as long.

use kurbo::{BezPath, PathEl, Point};

/// Micrometres in a millimetre.
const MICRO: f64 = 1000.0;

/// Appends `path`, in mm, as path data. Coordinates are to be within 100 m of
/// the origin, as [`super::placed`] sees to. Steps that round to nothing are
/// left out; an empty path appends nothing.
pub(super) fn write(out: &mut String, path: &BezPath) {
    let mut pen = Pen { out, at: (0, 0), start: (0, 0), last: ' ' };
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(a) => pen.start_at(micro(a)),
            PathEl::LineTo(a) => pen.line(micro(a)),
            PathEl::QuadTo(a, b) => pen.curve('q', &[micro(a), micro(b)]),
            PathEl::CurveTo(a, b, c) => pen.curve('c', &[micro(a), micro(b), micro(c)]),
            PathEl::ClosePath => pen.close(),
        }
    }
}

/// A place in whole micrometres.
type Micro = (i64, i64);

#[expect(
    clippy::cast_possible_truncation,
    reason = "within 100 m of the origin, so within 1e8 micrometres"
)]
fn micro(at: Point) -> Micro {
    ((at.x * MICRO).round() as i64, (at.y * MICRO).round() as i64)
}

struct Pen<'a> {
    out: &'a mut String,
    at: Micro,
    start: Micro,
    /// The command written last: a repeated one need not be written again.
    last: char,
}

impl Pen<'_> {
    fn start_at(&mut self, to: Micro) {
        self.command('M');
        self.numbers(&[to.0, to.1]);
        // A pair that followed would be taken for a line to an absolute place.
        self.last = ' ';
        (self.at, self.start) = (to, to);
    }

    fn line(&mut self, to: Micro) {
        let step = (to.0 - self.at.0, to.1 - self.at.1);
        match step {
            (0, 0) => return,
            (x, 0) => self.step('h', &[x]),
            (0, y) => self.step('v', &[y]),
            (x, y) => self.step('l', &[x, y]),
        }
        self.at = to;
    }

    /// A curve through its control points to the last of `places`.
    fn curve(&mut self, command: char, places: &[Micro]) {
        if places.iter().all(|place| *place == self.at) {
            return;
        }
        let steps: Vec<i64> =
            places.iter().flat_map(|place| [place.0 - self.at.0, place.1 - self.at.1]).collect();
        self.step(command, &steps);
        self.at = places.last().copied().unwrap_or(self.at);
    }

    fn close(&mut self) {
        self.out.push('Z');
        self.last = 'Z';
        self.at = self.start;
    }

    fn step(&mut self, command: char, numbers: &[i64]) {
        self.command(command);
        self.numbers(numbers);
    }

    fn command(&mut self, command: char) {
        if self.last != command {
            self.out.push(command);
            self.last = command;
        }
    }

    fn numbers(&mut self, numbers: &[i64]) {
        for &number in numbers {
            // A minus parts two numbers as well as a space does.
            if number >= 0 && self.out.as_bytes().last().is_some_and(u8::is_ascii_digit) {
                self.out.push(' ');
            }
            thousandths(self.out, number);
        }
    }
}

/// Appends a count of thousandths as a decimal: no trailing zeros, no minus zero. By hand: a
/// drawing is mostly such numbers, and the library's way takes several times as long.
fn thousandths(out: &mut String, value: i64) {
    // Twenty digits, a point and a sign, filled from the end.
    let mut written = [b'0'; 22];
    let mut at = written.len();
    let mut put = |byte: u8| {
        at -= 1;
        written[at] = byte;
    };
    let (mut whole, mut part) = (value.unsigned_abs() / 1000, value.unsigned_abs() % 1000);
    if part > 0 {
        let mut places = 3;
        while part % 10 == 0 {
            part /= 10;
            places -= 1;
        }
        for _ in 0..places {
            put(b'0' + (part % 10) as u8);
            part /= 10;
        }
        put(b'.');
    }
    loop {
        put(b'0' + (whole % 10) as u8);
        whole /= 10;
        if whole == 0 {
            break;
        }
    }
    if value < 0 {
        put(b'-');
    }
    out.extend(written[at..].iter().map(|byte| char::from(*byte)));
}

#[cfg(test)]
mod tests {
    use kurbo::{ParamCurve as _, Shape as _};

    use super::*;

    fn data(path: &BezPath) -> String {
        let mut out = String::new();
        write(&mut out, path);
        out
    }

    #[test]
    fn places_are_whole_micrometres_without_minus_zero_or_exponent() {
        let mut out = String::new();
        for value in [0, 1, -1, 10, 100, 1000, -1000, 1010, 123_456, -99_999_999, i64::MIN] {
            thousandths(&mut out, value);
            out.push(' ');
        }
        let wanted = "0 0.001 -0.001 0.01 0.1 1 -1 1.01 123.456 -99999.999 -9223372036854775.808 ";
        assert_eq!(out, wanted);
        let mut tiny = BezPath::new();
        tiny.move_to((-1e-9, 1e-20));
        tiny.line_to((0.000_49, -0.000_49));
        tiny.line_to((1e-7, 0.5));
        assert_eq!(data(&tiny), "M0 0v0.5");
    }

    #[test]
    fn a_contour_starts_at_its_place_and_goes_on_by_steps() {
        let mut path = BezPath::new();
        path.move_to((1.5, -2.0));
        path.line_to((4.5, -2.0));
        path.line_to((4.5, 2.0));
        path.line_to((3.0, 1.0));
        path.line_to((2.0, 2.25));
        path.close_path();
        path.move_to((10.0, 10.0));
        path.quad_to((11.0, 10.0), (11.0, 11.0));
        path.curve_to((11.0, 12.0), (10.0, 12.0), (9.0, 11.5));
        path.close_path();
        assert_eq!(data(&path), "M1.5-2h3v4l-1.5-1-1 1.25ZM10 10q1 0 1 1c0 1-1 1-2 0.5Z");
    }

    #[test]
    fn a_thousand_steps_of_a_third_end_where_they_should() {
        // Each step rounds to 0.333; carried on by itself that would end at 333 mm.
        let mut path = BezPath::new();
        path.move_to((0.0, 0.0));
        for count in 1..=1000 {
            path.line_to((f64::from(count) / 3.0, f64::from(count % 2)));
        }
        let read = BezPath::from_svg(&data(&path)).unwrap();
        let end = read.segments().last().unwrap().end();
        assert!((end.x - 1000.0 / 3.0).abs() <= 0.0005 + 1e-9, "{end:?}");
    }

    #[test]
    fn kurbo_reads_back_what_was_written_within_half_a_micrometre() {
        let circle = kurbo::Circle::new((37.123_456, 12.5), 9.876_543).to_path(1e-6);
        let read = BezPath::from_svg(&data(&circle)).unwrap();
        assert_eq!(read.elements().len(), circle.elements().len());
        let (a, b) = (circle.bounding_box(), read.bounding_box());
        for (x, y) in [(a.x0, b.x0), (a.y0, b.y0), (a.x1, b.x1), (a.y1, b.y1)] {
            assert!((x - y).abs() <= 0.0005 + 1e-9);
        }
    }
}
