//! How tests hold a figure against one from elsewhere.

/// Checks that a figure is no further from the expected one than `within`, in its own unit.
#[track_caller]
pub(super) fn near(found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within,
        "{found}, not {expected}"
    );
}
