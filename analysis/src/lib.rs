//! Many runs: draws, comparison, the verdict, statistics, charts, ledgers and reports.

pub mod carry;
pub mod cautions;
pub mod charts;
pub mod compare;
pub mod csv_text;
pub mod diary;
pub mod draw_sampler;
pub mod experiment;
pub mod json;
pub mod ledger;
pub mod lesson;
pub mod output;
pub mod provenance;
pub mod report;
pub mod run_detail;
pub mod score;
pub mod season;
pub mod select;
pub mod sources;
pub mod stats;
pub mod sweep;
pub mod table;
pub mod units;
pub mod until;
pub mod verdict;
pub mod wording;
