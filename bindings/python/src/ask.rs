//! From what Python gives to what it gets: one number, or columns.

use pyo3::prelude::*;
use pyo3::types::{PyDict, PyString};
use zeotrope::Error;
use zeotrope::units::{Atmosphere, Pressure};

use crate::column::{Given, Kind, Like, Source, arrow_parts, is_plain, source};
use crate::engine::{self, Question};
use crate::failure::{self, raised, wrong_type, wrong_value};
use crate::handle::Refrigerant;
use crate::json;
use crate::names::{self, Known};
use crate::pieces::{Refrigerants, Room, Task};
use crate::reply::{Answers, checked_out, may_overlap};
use crate::rows::{self, Ended};

/// The variable that says how many threads answer where a call does not.
const THREADS: &str = "ZEOTROPE_THREADS";

/// A property's name with its value as given.
pub(crate) type Named<'a, 'py> = (&'a str, Bound<'py, PyAny>);

/// What becomes of a question without an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Errors {
    /// Null or NaN.
    Null,
    /// An exception.
    Raise,
    /// Null or NaN, and next to the answers a code of each.
    Codes,
}

/// How a question is answered.
pub(crate) struct Options<'a, 'py> {
    pub(crate) out: Option<&'a Bound<'py, PyAny>>,
    pub(crate) errors: Option<&'a str>,
    pub(crate) threads: Option<usize>,
    pub(crate) atmosphere: Option<f64>,
}

impl Options<'_, '_> {
    /// Whether everything is as usual.
    pub(crate) fn is_plain(&self) -> bool {
        self.out.is_none() && self.errors.is_none() && self.atmosphere.is_none()
    }

    fn errors(&self, usual: Errors) -> PyResult<Errors> {
        Ok(match self.errors {
            None => usual,
            Some("null") => Errors::Null,
            Some("raise") => Errors::Raise,
            Some("codes") => Errors::Codes,
            Some(other) => {
                let text = format!("errors is 'null', 'raise' or 'codes', not '{other}'");
                return Err(wrong_value(text));
            }
        })
    }

    fn threads(&self) -> PyResult<usize> {
        let wrong = |text: &str| {
            let text = format!("threads is a whole number from 1, not {text}");
            wrong_value(text)
        };
        match self.threads {
            Some(0) => Err(wrong("0")),
            Some(threads) => Ok(threads),
            None => match std::env::var(THREADS) {
                Err(_) => Ok(1),
                Ok(text) => match text.trim().parse() {
                    Ok(threads) if threads > 0 => Ok(threads),
                    _ => Err(wrong(&format!("'{text}' ({THREADS})"))),
                },
            },
        }
    }

    /// What a gauge pressure is relative to, Pa; 0 where pressures are absolute.
    pub(crate) fn atmosphere(&self, py: Python<'_>) -> PyResult<f64> {
        let Some(pascal) = self.atmosphere else {
            return Ok(0.0);
        };
        match Atmosphere::from_station_pressure(Pressure::pascal(pascal)) {
            Ok(site) => Ok(site.pressure().in_pascal()),
            Err(error) => Err(raised(py, &error, None)),
        }
    }
}

/// Whose properties are asked for.
pub(crate) enum Whose<'py> {
    One(Known),
    Column(names::Column, Like<'py>),
}

impl<'py> Whose<'py> {
    /// A refrigerant, a name, or a column of names.
    pub(crate) fn read(value: &Bound<'py, PyAny>) -> PyResult<Self> {
        if let Ok(one) = value.cast::<Refrigerant>() {
            return Ok(Self::One(Ok(one.get().inner.clone())));
        }
        if let Ok(name) = value.cast::<PyString>() {
            return Ok(Self::One(names::known(&name.to_cow()?)));
        }
        let wrong = || {
            let found = value.get_type().name().map(|name| name.to_string());
            let found = found.unwrap_or_else(|_| "something else".into());
            pyo3::exceptions::PyTypeError::new_err(format!(
                "refrigerant is a name, a Refrigerant or a column of names, not {found}"
            ))
        };
        if is_plain(value) {
            return Err(wrong());
        }
        let py = value.py();
        let kinds = py.import("zeotrope._kinds")?;
        let (inner, kind) = match source(value) {
            Source::NumPy => (value.call_method0("tolist")?, Kind::NumPy),
            Source::Sequence => (value.clone(), Kind::NumPy),
            Source::Pandas => {
                let (inner, is_arrow): (Bound<'py, PyAny>, bool) =
                    kinds.call_method1("pandas_names", (value,))?.extract()?;
                (
                    inner,
                    if is_arrow {
                        Kind::PandasArrow
                    } else {
                        Kind::Pandas
                    },
                )
            }
            Source::Arrow(kind) => (value.clone(), kind),
            Source::Other => return Err(wrong()),
        };
        let is_object = matches!(kind, Kind::NumPy | Kind::Pandas);
        let (column, is_array) = if is_object {
            (names::Column::of_objects(&inner)?, true)
        } else {
            let (parts, is_array) = arrow_parts("refrigerant", &inner)?;
            (py.detach(|| names::Column::of_arrow(&parts)), is_array)
        };
        let column = column.ok_or_else(wrong)?;
        let parts: Vec<usize> = column.keys.iter().map(Vec::len).collect();
        let like = Like {
            // answers beside names of pandas are numbers as pandas usually holds them
            kind: if kind == Kind::PandasArrow {
                Kind::Pandas
            } else {
                kind
            },
            given: value.clone(),
            shape: vec![parts.iter().sum()],
            parts,
            is_array,
        };
        Ok(Self::Column(column, like))
    }
}

/// Answers a question: a float or a dict for numbers, columns for columns.
pub(crate) fn ask<'py>(
    py: Python<'py>,
    whose: &Whose<'py>,
    question: Question,
    values: &[Named<'_, 'py>],
    options: &Options<'_, 'py>,
) -> PyResult<Bound<'py, PyAny>> {
    let apart;
    let values = match options.out {
        Some(out) => {
            apart = apart_from(out, values)?;
            apart.as_slice()
        }
        None => values,
    };
    let given = read(py, values)?;
    let atmosphere = options.atmosphere(py)?;
    let mut added = [0.0; 2];
    for (added, (name, _)) in added.iter_mut().zip(values) {
        if *name == "pressure_Pa" {
            *added = atmosphere;
        }
    }
    let like = match whose {
        Whose::Column(_, like) => given.iter().find_map(Given::like).or(Some(like)),
        Whose::One(_) => given.iter().find_map(Given::like),
    };
    if let (None, Whose::One(known)) = (like, whose) {
        let number = |place: usize| match given.get(place) {
            Some(Given::Number(value)) => value + added[place],
            _ => 0.0,
        };
        return one(py, known, question, (number(0), number(1)), options);
    }
    let Some(like) = like else {
        return Err(wrong_value("there is nothing to answer"));
    };
    columns(py, whose, question, (values, &given, added), like, options)
}

/// The values, those in the memory that is written to as copies.
fn apart_from<'a, 'py>(
    out: &Bound<'py, PyAny>,
    values: &[Named<'a, 'py>],
) -> PyResult<Vec<Named<'a, 'py>>> {
    let apart = |(name, value): &Named<'a, 'py>| {
        let is_array = matches!(source(value), Source::NumPy);
        Ok(if is_array && may_overlap(out, value)? {
            (*name, value.call_method0("copy")?)
        } else {
            (*name, value.clone())
        })
    };
    values.iter().map(apart).collect()
}

/// Reads the properties; arrays of different shapes are brought to one as NumPy does.
fn read<'py>(py: Python<'py>, values: &[Named<'_, 'py>]) -> PyResult<Vec<Given<'py>>> {
    let given = values.iter().map(|(name, value)| Given::read(name, value));
    let given = given.collect::<PyResult<Vec<_>>>()?;
    let [Given::NumPy(_, one), Given::NumPy(_, other)] = given.as_slice() else {
        return Ok(given);
    };
    if one.kind == Kind::Pandas && other.kind == Kind::Pandas {
        py.import("zeotrope._kinds")?
            .call_method1("check_same_index", (&one.given, &other.given))?;
    }
    if one.shape == other.shape || one.kind != Kind::NumPy || other.kind != Kind::NumPy {
        return Ok(given);
    }
    let arrays: Vec<Bound<'py, PyAny>> = py
        .import("numpy")?
        .call_method1("broadcast_arrays", (&one.given, &other.given))?
        .extract()?;
    let arrays = values.iter().zip(&arrays);
    arrays
        .map(|((name, _), array)| Given::read(name, array))
        .collect()
}

/// An answer to numbers.
enum One {
    Number(f64),
    State(Box<zeotrope::refrigerant::State>),
}

/// An answer about one refrigerant by numbers.
fn one<'py>(
    py: Python<'py>,
    known: &Known,
    question: Question,
    (a, b): (f64, f64),
    options: &Options<'_, 'py>,
) -> PyResult<Bound<'py, PyAny>> {
    if options.out.is_some() {
        return Err(wrong_value("out is for arrays of NumPy"));
    }
    let errors = options.errors(Errors::Raise)?;
    let found = known.as_ref().map_err(Error::clone);
    let found = found.and_then(|known| match question {
        Question::Number(number) => engine::number(known, number, a, b).map(One::Number),
        Question::State(state) => {
            let found = py.detach(|| engine::state(known, &state, a, b));
            found.map(|state| One::State(Box::new(state)))
        }
    });
    let answer = match &found {
        Ok(One::Number(number)) => number.into_pyobject(py)?.into_any(),
        Ok(One::State(state)) => json::of(py, state)?,
        Err(error) if errors == Errors::Raise => return Err(raised(py, error, None)),
        Err(_) => match question {
            Question::Number(_) => f64::NAN.into_pyobject(py)?.into_any(),
            Question::State(_) => py.None().into_bound(py),
        },
    };
    if errors != Errors::Codes {
        return Ok(answer);
    }
    let code = found
        .as_ref()
        .err()
        .map_or(failure::ANSWERED, failure::code);
    let code = py
        .import("zeotrope._errors")?
        .getattr("Code")?
        .call1((code,))?;
    Ok((answer, code).into_pyobject(py)?.into_any())
}

/// Answers of columns.
fn columns<'py>(
    py: Python<'py>,
    whose: &Whose<'py>,
    question: Question,
    (values, given, added): (&[Named<'_, 'py>], &[Given<'py>], [f64; 2]),
    like: &Like<'py>,
    options: &Options<'_, 'py>,
) -> PyResult<Bound<'py, PyAny>> {
    let rows = same_length(whose, values, given)?;
    let errors = options.errors(Errors::Null)?;
    let mut task = Task {
        question,
        refrigerants: match whose {
            Whose::One(Err(error)) if errors == Errors::Raise => {
                return Err(raised(py, error, None));
            }
            Whose::One(known) => Refrigerants::Same(known),
            Whose::Column(names, _) => {
                let keys = names.keys.iter().map(Vec::as_slice).collect();
                Refrigerants::Keys(keys, &names.known)
            }
        },
        values: Vec::new(),
        added,
        rows,
        threads: options.threads()?,
        is_watched: is_main_thread(py)?,
        raises: errors == Errors::Raise,
    };
    let out = match options.out {
        None => None,
        Some(_) if like.kind != Kind::NumPy || matches!(question, Question::State(_)) => {
            return Err(wrong_value("out is for numbers in arrays of NumPy"));
        }
        Some(out) => Some(out),
    };
    for one in given {
        task.values.push(one.values()?);
    }
    let is_state = matches!(question, Question::State(_));
    let own = if out.is_some() { 0 } else { question.columns() };
    let mut answers = Answers {
        columns: (0..own).map(|_| vec![0.0; rows]).collect(),
        phases: is_state.then(|| vec![0; rows]),
        codes: (errors == Errors::Codes).then(|| vec![0; rows]),
    };
    let mut written = out.map(|out| checked_out(out, like)).transpose()?;
    let mut room = Room {
        columns: answers.columns.iter_mut().map(Vec::as_mut_slice).collect(),
        phases: answers.phases.as_deref_mut().unwrap_or_default(),
        codes: answers.codes.as_deref_mut().unwrap_or_default(),
    };
    if let Some(written) = &mut written {
        let slice = written.as_slice_mut();
        let slice = slice.map_err(|_| wrong_value("out is not contiguous"))?;
        room.columns.push(slice);
    }
    match py.detach(|| rows::answer(&task, room)) {
        Ok(()) => {}
        Err(Ended::Interrupted(error)) => return Err(error),
        Err(Ended::Row(row, error)) => return Err(raised(py, &error, Some(row))),
    }
    drop(written);
    reply(py, answers, like, out)
}

fn is_main_thread(py: Python<'_>) -> PyResult<bool> {
    let threading = py.import("threading")?;
    let main = threading.call_method0("main_thread")?.getattr("ident")?;
    main.eq(threading.call_method0("get_ident")?)
}

/// The answers as the caller's kind of column.
fn reply<'py>(
    py: Python<'py>,
    mut answers: Answers,
    like: &Like<'py>,
    out: Option<&Bound<'py, PyAny>>,
) -> PyResult<Bound<'py, PyAny>> {
    let answer = match (out, answers.phases, answers.columns.len()) {
        (Some(out), ..) => out.clone(),
        (None, Some(phases), _) => like.states(py, answers.columns, &phases)?,
        (None, None, _) => like.numbers(py, answers.columns.pop().unwrap_or_default())?,
    };
    match answers.codes {
        None => Ok(answer),
        Some(codes) => {
            let codes = like.codes(py, codes)?;
            Ok((answer, codes).into_pyobject(py)?.into_any())
        }
    }
}

/// The rows that all columns have.
fn same_length(
    whose: &Whose<'_>,
    values: &[Named<'_, '_>],
    given: &[Given<'_>],
) -> PyResult<usize> {
    let mut lengths: Vec<(&str, usize)> = Vec::new();
    if let Whose::Column(names, _) = whose {
        lengths.push(("refrigerant", names.keys.iter().map(Vec::len).sum()));
    }
    for ((name, _), one) in values.iter().zip(given) {
        if let Some(rows) = one.rows() {
            lengths.push((name, rows));
        }
    }
    let first = lengths.first().copied().unwrap_or(("", 0));
    match lengths.iter().find(|one| one.1 != first.1) {
        None => Ok(first.1),
        Some(other) => Err(wrong_value(format!(
            "{} has {} rows and {} has {}",
            first.0, first.1, other.0, other.1
        ))),
    }
}

/// The two properties of a state among the arguments, in the engine's order.
pub(crate) fn pair<'py>(
    given: [Option<&Bound<'py, PyAny>>; 6],
) -> PyResult<(engine::Pair, Vec<Named<'static, 'py>>)> {
    let names = engine::Pair::PROPERTIES;
    let given = given.into_iter().enumerate();
    let found: Vec<_> = given
        .filter_map(|(place, value)| Some((place, value?)))
        .collect();
    match found.as_slice() {
        [one, other] => Ok((
            engine::Pair::new(one.0, other.0),
            found
                .iter()
                .map(|(place, value)| (names[*place], (*value).clone()))
                .collect(),
        )),
        _ => Err(pyo3::exceptions::PyTypeError::new_err(format!(
            "a state is asked by two of {}; {} were given",
            names.join(", "),
            found.len()
        ))),
    }
}

/// What is asked about a state, by names.
pub(crate) fn state_question(
    pair: engine::Pair,
    reference_state: &str,
    phase: Option<&str>,
) -> PyResult<Question> {
    let reference = reference(reference_state)?;
    let phase = match phase {
        None => None,
        Some(name) => Some(engine::phase(name).ok_or_else(|| {
            wrong_value(format!(
                "phase is liquid, vapor, supercritical or two-phase, not '{name}'"
            ))
        })?),
    };
    Ok(Question::State(engine::StateQuestion {
        pair,
        reference,
        phase,
    }))
}

/// A mapping's items as pairs, in its order.
pub(crate) fn fractions(parts: &Bound<'_, PyDict>) -> PyResult<Vec<(String, f64)>> {
    let mut found = Vec::new();
    for (name, fraction) in parts {
        let Given::Number(fraction) = Given::read("a fraction", &fraction)? else {
            return Err(wrong_type("a fraction", &fraction, "give a float"));
        };
        found.push((name.extract()?, fraction));
    }
    Ok(found)
}

/// A reference state by its name.
pub(crate) fn reference(name: &str) -> PyResult<zeotrope::ReferenceState> {
    engine::reference(name).ok_or_else(|| {
        wrong_value(format!(
            "reference_state is usual, iir, ashrae, boiling-point, ideal-gas or published, not \
             '{name}'"
        ))
    })
}
