//! The books as a measure reads them.

use crate::ledger::flows::Flow;
use crate::measures::Measure;
use crate::run::recorder::RunView;

/// What has flowed in a zone, for a measure that names the flow.
///
/// # Panics
/// If the measure does not name it: it would be blank in runs that keep no more than is named.
pub(super) fn flow_for(measure: Measure, run: &RunView, zone: usize, flow: Flow) -> f64 {
    let (name, flow_name) = (measure.name(), flow.name());
    assert!(measure.reads().has(flow), "the measure {name} reads the flow {flow_name} and does not name it");
    run.flow(zone, flow)
}
