//! The layers of the map: what colours and shapes stand for.

use language::say;
use plot::{Plot, Round, TraitIx, capital};

use crate::words;

/// What the map shows.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Layer {
    /// The scores of a trait.
    Trait(TraitIx),
    /// The verdicts on a disease.
    Verdict(String),
    /// The luck of clean trees.
    Luck(String),
    /// The infections expected of each tree.
    Dose(String),
    /// How hard a disease pressed: the witness share.
    Pressure(String),
    /// Infections seen less those predicted.
    Leftover(String),
    /// How strongly trees grow.
    Vigour,
    /// Which cross each tree is of.
    Cross,
}

impl Layer {
    /// All layers that a plot has: by disease its traits, then verdict, luck, dose, pressure
    /// and what is left over; the other traits, vigour, cross.
    pub fn all(plot: &Plot) -> Vec<Self> {
        let mut layers = Vec::new();
        for disease in plot.diseases() {
            layers.extend(plot.traits_of_disease(disease).into_iter().map(Self::Trait));
            layers.push(Self::Verdict(disease.to_owned()));
            layers.push(Self::Luck(disease.to_owned()));
            layers.push(Self::Dose(disease.to_owned()));
            layers.push(Self::Pressure(disease.to_owned()));
            layers.push(Self::Leftover(disease.to_owned()));
        }
        let others = (0..plot.head().traits.len()).map(TraitIx::new);
        layers.extend(others.filter(|ix| plot.trait_of(*ix).disease.is_none()).map(Self::Trait));
        if plot.vigour_trait().is_some() {
            layers.push(Self::Vigour);
        }
        layers.push(Self::Cross);
        layers
    }

    /// Its name on the screen.
    pub fn label(&self, plot: &Plot) -> String {
        match self {
            Self::Trait(ix) => plot.trait_of(*ix).label.clone(),
            Self::Verdict(_) => say!("Verdict").to_owned(),
            Self::Luck(_) => say!("Luck").to_owned(),
            Self::Dose(_) => say!("Dose").to_owned(),
            Self::Pressure(_) => say!("Pressure").to_owned(),
            Self::Leftover(_) => say!("Left over").to_owned(),
            Self::Vigour => say!("Vigour").to_owned(),
            Self::Cross => say!("Cross").to_owned(),
        }
    }

    /// A word for it that stays the same while the plot's traits do.
    pub fn key(&self, plot: &Plot) -> String {
        match self {
            Self::Trait(ix) => format!("trait/{}", plot.trait_of(*ix).id),
            Self::Verdict(disease) => format!("verdict/{disease}"),
            Self::Luck(disease) => format!("luck/{disease}"),
            Self::Dose(disease) => format!("dose/{disease}"),
            Self::Pressure(disease) => format!("pressure/{disease}"),
            Self::Leftover(disease) => format!("leftover/{disease}"),
            Self::Vigour => "vigour".to_owned(),
            Self::Cross => "cross".to_owned(),
        }
    }

    /// The layer of a key, if the plot has it.
    pub fn from_key(plot: &Plot, key: &str) -> Option<Self> {
        Self::all(plot).into_iter().find(|layer| layer.key(plot) == key)
    }

    /// The disease it is about.
    pub fn disease<'a>(&'a self, plot: &'a Plot) -> Option<&'a str> {
        match self {
            Self::Trait(ix) => plot.trait_of(*ix).disease.as_deref(),
            Self::Verdict(disease)
            | Self::Luck(disease)
            | Self::Dose(disease)
            | Self::Pressure(disease)
            | Self::Leftover(disease) => Some(disease),
            Self::Vigour | Self::Cross => None,
        }
    }

    /// The heading under which it is listed: its disease, or what all others have in common.
    pub fn heading(&self, plot: &Plot) -> String {
        match self.disease(plot) {
            Some(disease) => capital(&words::disease(plot, disease)),
            None => say!("Other"; "layers of no disease").to_owned(),
        }
    }

    /// The trait whose scores it shows; its rounds are those that one can step through.
    pub fn trait_ix(&self, plot: &Plot) -> Option<TraitIx> {
        match self {
            Self::Trait(ix) => Some(*ix),
            Self::Vigour => plot.vigour_trait(),
            _ => None,
        }
    }

    /// The rounds that one can step through under it: those of its trait, or of all traits of a
    /// disease.
    pub fn rounds(&self, plot: &Plot, disease: Option<&str>) -> Vec<Round> {
        match (self.trait_ix(plot), disease) {
            (Some(ix), _) => plot.rounds(|score| score.trait_ix == ix),
            (None, Some(disease)) => {
                let traits = plot.traits_of_disease(disease);
                plot.rounds(|score| traits.contains(&score.trait_ix))
            }
            (None, None) => Vec::new(),
        }
    }

    /// Whether it needs a report of its disease. Its marks then say what the whole record says.
    pub fn needs_report(&self) -> bool {
        !matches!(self, Self::Trait(_) | Self::Vigour | Self::Cross)
    }
}
