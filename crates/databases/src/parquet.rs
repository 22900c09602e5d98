//! A frame as a Parquet file: Snappy pages, every column optional.

use std::sync::Arc;

use parquet::basic::{Compression, LogicalType, Repetition, TimeUnit, Type as Physical};
use parquet::data_type::{BoolType, ByteArray, ByteArrayType, DataType, DoubleType};
use parquet::data_type::{Int32Type, Int64Type};
use parquet::errors::ParquetError;
use parquet::file::properties::WriterProperties;
use parquet::file::writer::{SerializedFileWriter, SerializedRowGroupWriter};
use parquet::schema::types::{Type, TypePtr};
use time::{Date, OffsetDateTime};

use crate::Unwritten;
use crate::frame::{Frame, Values};

/// Lines of a row group: engines read groups side by side.
const LINES: usize = 100_000;
/// 1970-01-01 in Julian days.
const EPOCH_JULIAN: i32 = 2_440_588;

/// The bytes of a file. Text is `STRING`, whole numbers `INT64`, numbers `DOUBLE`, days `DATE`,
/// moments `TIMESTAMP` in UTC to the microsecond.
///
/// # Errors
/// What the format cannot hold.
pub fn parquet(frame: &Frame) -> Result<Vec<u8>, Unwritten> {
    let columns = frame.columns(&[]);
    let fields: Result<Vec<TypePtr>, ParquetError> =
        columns.iter().map(|(name, values)| field(name, values)).collect();
    let schema = Type::group_type_builder("schema").with_fields(fields?).build()?;
    let settings = WriterProperties::builder().set_compression(Compression::SNAPPY).build();
    let mut writer = SerializedFileWriter::new(Vec::new(), Arc::new(schema), Arc::new(settings))?;
    for begin in (0..frame.len()).step_by(LINES) {
        let lines = begin..frame.len().min(begin + LINES);
        let mut group = writer.next_row_group()?;
        for (_, values) in &columns {
            write(&mut group, values, lines.clone())?;
        }
        group.close()?;
    }
    Ok(writer.into_inner()?)
}

fn field(name: &str, values: &Values) -> Result<TypePtr, ParquetError> {
    let (physical, logical) = match values {
        Values::Text(_) => (Physical::BYTE_ARRAY, Some(LogicalType::String)),
        Values::Whole(_) => (Physical::INT64, None),
        Values::Number(_) => (Physical::DOUBLE, None),
        Values::Truth(_) => (Physical::BOOLEAN, None),
        Values::Day(_) => (Physical::INT32, Some(LogicalType::Date)),
        Values::Moment(_) => {
            (Physical::INT64, Some(LogicalType::timestamp(true, TimeUnit::MICROS)))
        }
    };
    let field = Type::primitive_type_builder(name, physical)
        .with_repetition(Repetition::OPTIONAL)
        .with_logical_type(logical);
    Ok(Arc::new(field.build()?))
}

fn write(
    group: &mut SerializedRowGroupWriter<'_, Vec<u8>>,
    values: &Values,
    lines: std::ops::Range<usize>,
) -> Result<(), ParquetError> {
    match values {
        Values::Text(all) => {
            column::<ByteArrayType, _>(group, &all[lines], |text| ByteArray::from(text.as_str()))
        }
        Values::Whole(all) => column::<Int64Type, _>(group, &all[lines], |&number| number),
        Values::Number(all) => column::<DoubleType, _>(group, &all[lines], |&number| number),
        Values::Truth(all) => column::<BoolType, _>(group, &all[lines], |&truth| truth),
        Values::Day(all) => column::<Int32Type, _>(group, &all[lines], |&day| days(day)),
        Values::Moment(all) => column::<Int64Type, _>(group, &all[lines], |&at| micros(at)),
    }
}

/// Writes the values that are there, and for each line whether it has one.
fn column<D: DataType, V>(
    group: &mut SerializedRowGroupWriter<'_, Vec<u8>>,
    values: &[Option<V>],
    as_written: impl Fn(&V) -> D::T,
) -> Result<(), ParquetError> {
    let there: Vec<i16> = values.iter().map(|value| i16::from(value.is_some())).collect();
    let written: Vec<D::T> = values.iter().flatten().map(as_written).collect();
    let mut column =
        group.next_column()?.ok_or_else(|| ParquetError::General("no column is left".into()))?;
    column.typed::<D>().write_batch(&written, Some(&there), None)?;
    column.close()
}

fn days(day: Date) -> i32 {
    day.to_julian_day() - EPOCH_JULIAN
}

fn micros(at: OffsetDateTime) -> i64 {
    at.unix_timestamp() * 1_000_000 + i64::from(at.microsecond())
}
