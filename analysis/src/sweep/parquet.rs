//! The table of a sweep as Parquet: the columns, names and rows of `cells.csv`, with types.
//!
//! Counts are INT64, numbers DOUBLE (a blank is a null), words UTF-8, true and false BOOLEAN.
//! Rows are written group by group, so that memory does not hang on their number; nothing of
//! clock or machine gets in, so that a run gives the same bytes again. Only with the cargo
//! feature `parquet`.

use super::columns::{ColumnKind, SweepColumn, Value, columns, record};
use super::merge::Whole;
use super::rows::each_row;
use super::{SweepError, SweepPlan};
use crate::output::OutputError;
use parquet::basic::{Compression, LogicalType, Repetition, Type as Physical};
use parquet::data_type::{BoolType, ByteArray, ByteArrayType, DataType, DoubleType, Int64Type};
use parquet::errors::ParquetError;
use parquet::file::metadata::KeyValue;
use parquet::file::properties::{EnabledStatistics, WriterProperties};
use parquet::file::writer::{SerializedFileWriter, SerializedRowGroupWriter};
use parquet::schema::types::{Type, TypePtr};
use std::io::Write;
use std::path::Path;
use std::sync::Arc;

/// Rows of one group: with some sixty columns of eight bytes about 8 MB are held.
const ROWS_A_GROUP: usize = 16_384;

/// Writes the table of a whole run to `file`, which is to be at `path`.
///
/// # Errors
/// The file cannot be written, or a part was changed meanwhile.
pub fn write(whole: &Whole, file: &mut (dyn Write + Send), path: &Path) -> Result<(), SweepError> {
    let plan = &whole.plan;
    let fail = |error| SweepError::Output(OutputError { path: path.to_owned(), cause: system(error) });
    let mut table = ParquetTable::new(plan, file).map_err(fail)?;
    each_row(whole, &mut |row, tally| table.add(&record(plan, &row, tally)).map_err(fail))?;
    table.finish().map_err(fail)
}

/// The system's error in one of Parquet.
fn system(error: ParquetError) -> std::io::Error {
    match error {
        ParquetError::External(inner) => match inner.downcast::<std::io::Error>() {
            Ok(system) => *system,
            Err(other) => std::io::Error::other(other),
        },
        other => std::io::Error::other(other),
    }
}

/// A table being written: the rows of the group that is not yet full, by column.
struct ParquetTable<W: Write + Send> {
    file: SerializedFileWriter<W>,
    held: Vec<Held>,
    rows: usize,
}

/// Values of a column.
enum Held {
    Count(Vec<i64>),
    /// Numbers, and for each row whether it has one.
    Number(Vec<f64>, Vec<i16>),
    Text(Vec<ByteArray>),
    Flag(Vec<bool>),
}

impl<W: Write + Send> ParquetTable<W> {
    fn new(plan: &SweepPlan, file: W) -> Result<Self, ParquetError> {
        let columns = columns(plan);
        let held = columns.iter().map(|column| Held::new(column.kind)).collect();
        let file = SerializedFileWriter::new(file, schema(&columns)?, Arc::new(properties(plan)))?;
        Ok(Self { file, held, rows: 0 })
    }

    fn add(&mut self, row: &[Value<'_>]) -> Result<(), ParquetError> {
        for (held, value) in self.held.iter_mut().zip(row) {
            held.add(*value);
        }
        self.rows += 1;
        if self.rows < ROWS_A_GROUP { Ok(()) } else { self.group() }
    }

    fn group(&mut self) -> Result<(), ParquetError> {
        let mut group = self.file.next_row_group()?;
        for held in &mut self.held {
            held.write(&mut group)?;
        }
        group.close()?;
        self.rows = 0;
        Ok(())
    }

    fn finish(mut self) -> Result<(), ParquetError> {
        if self.rows > 0 {
            self.group()?;
        }
        self.file.close()?;
        Ok(())
    }
}

impl Held {
    fn new(kind: ColumnKind) -> Self {
        match kind {
            ColumnKind::Count => Self::Count(Vec::new()),
            ColumnKind::Number => Self::Number(Vec::new(), Vec::new()),
            ColumnKind::Text => Self::Text(Vec::new()),
            ColumnKind::Flag => Self::Flag(Vec::new()),
        }
    }

    fn add(&mut self, value: Value<'_>) {
        match (self, value) {
            // No count comes near the end of the type.
            (Self::Count(held), Value::Count(count)) => held.push(i64::try_from(count).unwrap_or(i64::MAX)),
            (Self::Number(held, there), Value::Number(number)) => {
                there.push(i16::from(number.is_finite()));
                held.extend(Some(number).filter(|number| number.is_finite()));
            }
            (Self::Text(held), Value::Text(text)) => held.push(text.into()),
            (Self::Flag(held), Value::Flag(flag)) => held.push(flag),
            // `columns` and `record` go together; a row that did not would be refused by its length.
            _ => {}
        }
    }

    /// Writes the values as the next column of a group and forgets them.
    fn write<W: Write + Send>(&mut self, group: &mut SerializedRowGroupWriter<'_, W>) -> Result<(), ParquetError> {
        match self {
            Self::Count(held) => column::<Int64Type, W>(group, held, None),
            Self::Number(held, there) => {
                column::<DoubleType, W>(group, held, Some(there.as_slice()))?;
                there.clear();
                Ok(())
            }
            Self::Text(held) => column::<ByteArrayType, W>(group, held, None),
            Self::Flag(held) => column::<BoolType, W>(group, held, None),
        }
    }
}

fn column<T: DataType, W: Write + Send>(
    group: &mut SerializedRowGroupWriter<'_, W>,
    held: &mut Vec<T::T>,
    there: Option<&[i16]>,
) -> Result<(), ParquetError> {
    let ended = || ParquetError::General("the table has more columns than its head".to_owned());
    let mut writer = group.next_column()?.ok_or_else(ended)?;
    writer.typed::<T>().write_batch(held, there, None)?;
    held.clear();
    writer.close()
}

fn schema(columns: &[SweepColumn]) -> Result<TypePtr, ParquetError> {
    let field = |column: &SweepColumn| {
        let (physical, logical, repetition) = match column.kind {
            ColumnKind::Count => (Physical::INT64, None, Repetition::REQUIRED),
            ColumnKind::Number => (Physical::DOUBLE, None, Repetition::OPTIONAL),
            ColumnKind::Text => (Physical::BYTE_ARRAY, Some(LogicalType::String), Repetition::REQUIRED),
            ColumnKind::Flag => (Physical::BOOLEAN, None, Repetition::REQUIRED),
        };
        let field = Type::primitive_type_builder(&column.name, physical).with_repetition(repetition);
        Ok(Arc::new(field.with_logical_type(logical).build()?))
    };
    let fields = columns.iter().map(field).collect::<Result<Vec<TypePtr>, ParquetError>>()?;
    Ok(Arc::new(Type::group_type_builder("cells").with_fields(fields).build()?))
}

/// What the file says of itself: the run it is of, as `summary.json` does.
fn properties(plan: &SweepPlan) -> WriterProperties {
    let said = [
        ("format", "hensward.sweep/2".to_owned()),
        ("version", plan.version.clone()),
        ("seed", plan.seed.to_string()),
        ("site", plan.site.clone()),
        ("input_digest", plan.input_digest.clone()),
    ];
    WriterProperties::builder()
        .set_compression(Compression::SNAPPY)
        .set_statistics_enabled(EnabledStatistics::Chunk)
        .set_key_value_metadata(Some(said.map(|(key, value)| KeyValue::new(format!("hensward.{key}"), value)).into()))
        .build()
}
