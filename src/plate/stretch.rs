//! Free stretches across the plate, and what is taken out of them.

/// A free stretch across the field, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Left end.
    pub left: f64,
    /// Right end.
    pub right: f64,
}

/// Takes a stretch out of a list that runs from left to right and keeps it so. One
/// without width splits what it lies in.
pub(super) fn take_out(free: &mut Vec<Interval>, shade: Interval) {
    // From the right, so that what is put in is not looked at again.
    let mut index = free.len();
    while index > 0 {
        index -= 1;
        let Some(part) = free.get_mut(index) else { continue };
        if shade.left >= part.right {
            return;
        }
        if shade.right <= part.left {
            continue;
        }
        let (left, right) = (part.left, part.right);
        match (shade.left > left, shade.right < right) {
            (true, true) => {
                part.right = shade.left;
                free.insert(index + 1, Interval { left: shade.right, right });
            }
            (true, false) => part.right = shade.left,
            (false, true) => part.left = shade.right,
            (false, false) => {
                free.remove(index);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Interval, take_out};

    fn left_of(taken: &[(f64, f64)]) -> Vec<(f64, f64)> {
        let mut free = vec![Interval { left: 0.0, right: 100.0 }];
        for &(left, right) in taken {
            take_out(&mut free, Interval { left, right });
        }
        free.iter().map(|part| (part.left, part.right)).collect()
    }

    #[test]
    fn what_is_taken_out_is_gone_in_whatever_order() {
        assert_eq!(left_of(&[]), [(0.0, 100.0)]);
        assert_eq!(left_of(&[(-5.0, 10.0), (95.0, 200.0)]), [(10.0, 95.0)]);
        assert_eq!(
            left_of(&[(60.0, 70.0), (20.0, 30.0), (25.0, 62.0)]),
            [(0.0, 20.0), (70.0, 100.0)]
        );
        assert_eq!(
            left_of(&[(10.0, 20.0), (30.0, 40.0), (5.0, 50.0)]),
            [(0.0, 5.0), (50.0, 100.0)]
        );
        assert_eq!(left_of(&[(40.0, 40.0)]), [(0.0, 40.0), (40.0, 100.0)]);
        assert_eq!(left_of(&[(-1.0, 101.0), (4.0, 5.0)]), []);
    }
}
