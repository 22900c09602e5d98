//! From plot, report and view to what is shown: marks, labels, legend, and the sentences that
//! browser and command line share.

pub mod words;
