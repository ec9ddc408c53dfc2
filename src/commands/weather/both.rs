//! What `weather fit` and `weather draw` share.

use analysis::json::RunFacts;
use std::time::Instant;

/// Weather alone runs no site.
pub fn no_runs(begun: Instant) -> RunFacts {
    RunFacts { seconds: begun.elapsed().as_secs_f64(), threads: 1, zone_days: 0, plot_days: 0 }
}
