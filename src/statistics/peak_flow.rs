//! Paired readings of a classic paper, which several measures of agreement are held against.

/// Bland & Altman 1986, table 1: peak flow of 17 people by a Wright and by a mini meter, first
/// readings.
pub(super) const PEAK_FLOW: [[f64; 2]; 17] = [
    [494.0, 512.0],
    [395.0, 430.0],
    [516.0, 520.0],
    [434.0, 428.0],
    [476.0, 500.0],
    [557.0, 600.0],
    [413.0, 364.0],
    [442.0, 380.0],
    [650.0, 658.0],
    [433.0, 445.0],
    [417.0, 432.0],
    [656.0, 626.0],
    [267.0, 260.0],
    [478.0, 477.0],
    [178.0, 259.0],
    [423.0, 350.0],
    [427.0, 451.0],
];
