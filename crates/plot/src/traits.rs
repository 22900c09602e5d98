//! Traits and their scales: which value is clean, which only says that nothing was observed.

use language::say;

use crate::{Refusal, TraitId};

/// Something that is scored.
#[derive(Clone, Debug, PartialEq)]
pub struct Trait {
    /// Its name in `scores.csv`.
    pub id: TraitId,
    /// The disease it counts for, if any.
    pub disease: Option<String>,
    /// Words for the screen.
    pub label: String,
    /// How it is measured.
    pub kind: Kind,
    /// What a tree must have shown, in the same season, to be at risk.
    pub needs: Option<Needs>,
}

/// How a trait is measured.
#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    /// Classes of a scale.
    Ordinal(Scale),
    /// A measured number.
    Number {
        /// Unit, such as `mm`.
        unit: Option<String>,
        /// Smallest value allowed.
        min: Option<f64>,
        /// Largest value allowed.
        max: Option<f64>,
    },
}

/// A condition of being at risk: another trait with a value of at least so much.
#[derive(Clone, Debug, PartialEq)]
pub struct Needs {
    /// The other trait.
    pub trait_id: TraitId,
    /// The smallest value that counts.
    pub at_least: f64,
}

/// The classes of an ordinal trait, in the order of the file.
#[derive(Clone, Debug, PartialEq)]
pub struct Scale {
    steps: Vec<Step>,
}

/// One class of a scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// The number that is written down.
    pub value: f64,
    /// What it means, in words.
    pub label: String,
    /// Share of tissue affected, 0 to 1; 0 is looked at and clean. None in a disease's trait: the
    /// value only says that nothing was observed.
    pub severity: Option<f64>,
}

impl Scale {
    /// # Errors
    /// No class, a value that is not finite, two classes of one value, or a severity outside 0–1.
    pub fn new(steps: Vec<Step>) -> Result<Self, Refusal> {
        if steps.is_empty() {
            return Err(Refusal::new("scale", say!("no class"), say!("at least one class")));
        }
        for (nth, step) in steps.iter().enumerate() {
            if !step.value.is_finite() {
                return Err(Refusal::new("scale.value", step.value.to_string(), say!("a number")));
            }
            if steps[..nth].iter().any(|earlier| earlier.value == step.value) {
                return Err(Refusal::new(
                    "scale.value",
                    say!("{value} twice", value = step.value),
                    say!("each value once"),
                ));
            }
            if step.severity.is_some_and(|severity| !(0.0..=1.0).contains(&severity)) {
                return Err(Refusal::new(
                    "scale.severity",
                    step.severity.unwrap_or(f64::NAN).to_string(),
                    say!("a share from 0 to 1"),
                ));
            }
        }
        Ok(Self { steps })
    }

    /// The classes, in the order of the file.
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// The class of a value.
    pub fn step(&self, value: f64) -> Option<&Step> {
        self.steps.iter().find(|step| step.value == value)
    }
}

impl Trait {
    /// Share of tissue affected that a value stands for, 0 to 1.
    ///
    /// For a scale: its class's severity. For a number of a disease with `max`: the way from
    /// `min` (or 0) to `max`. None: the value does not say (no disease, or a class that only
    /// means *not observed*).
    pub fn severity(&self, value: f64) -> Option<f64> {
        self.disease.as_ref()?;
        match &self.kind {
            Kind::Ordinal(scale) => scale.step(value)?.severity,
            Kind::Number { min, max, .. } => {
                let (low, high) = (min.unwrap_or(0.0), (*max)?);
                (high > low).then(|| ((value - low) / (high - low)).clamp(0.0, 1.0))
            }
        }
    }

    /// # Errors
    /// A value that the trait does not allow.
    pub(crate) fn check(&self, value: f64) -> Result<(), Refusal> {
        let refuse = |expected: String| Err(Refusal::new("value", value.to_string(), expected));
        match &self.kind {
            Kind::Ordinal(scale) if scale.step(value).is_none() => {
                let values: Vec<String> =
                    scale.steps.iter().map(|step| step.value.to_string()).collect();
                refuse(say!("one of {values} ({id})", values = values.join(", "), id = self.id))
            }
            Kind::Number { min, max, unit } => {
                let below = min.is_some_and(|min| value < min);
                let above = max.is_some_and(|max| value > max);
                if below || above || !value.is_finite() {
                    let bound = |limit: &Option<f64>| {
                        limit.map_or_else(|| say!("any").to_owned(), |limit| limit.to_string())
                    };
                    let unit = unit.as_deref().unwrap_or("");
                    return refuse(say!(
                        "a number from {min} to {max} {unit} ({id})",
                        min = bound(min),
                        max = bound(max),
                        id = self.id
                    ));
                }
                Ok(())
            }
            Kind::Ordinal(_) => Ok(()),
        }
    }
}
