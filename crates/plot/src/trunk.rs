//! Trunks: which traits measure one, and its cross-sectional area.

use crate::{Kind, Plot, Trait, TraitIx};

/// Which way round a trunk is measured.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Trunk {
    /// From side to side.
    Diameter,
    /// Around.
    Girth,
}

impl Trunk {
    /// Cross-sectional area in cm² of a round trunk: π d²/4 of a diameter, C²/4π of a girth, in cm.
    fn area_cm2(self, measured_cm: f64) -> f64 {
        match self {
            Self::Diameter => std::f64::consts::FRAC_PI_4 * measured_cm * measured_cm,
            Self::Girth => measured_cm * measured_cm / (4.0 * std::f64::consts::PI),
        }
    }
}

impl Trait {
    /// Whether it measures a trunk: a number that belongs to no disease and is called
    /// `trunk_diameter` or `trunk_girth`, alone or followed by `_` and more, such as the height at
    /// which it is measured (`trunk_girth_30cm`).
    fn trunk(&self) -> Option<Trunk> {
        let is_called = |name: &str| {
            let rest = self.id.as_str().strip_prefix(name);
            rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('_'))
        };
        if self.disease.is_some() || !matches!(self.kind, Kind::Number { .. }) {
            return None;
        }
        if is_called("trunk_diameter") {
            Some(Trunk::Diameter)
        } else if is_called("trunk_girth") {
            Some(Trunk::Girth)
        } else {
            None
        }
    }

    /// The trunk's cross-sectional area in cm² that a value stands for. None where the trait
    /// measures no trunk, which its id tells ([`Plot::vigour_trait`]), or its unit is neither mm,
    /// cm nor m.
    pub fn trunk_area_cm2(&self) -> Option<impl Fn(f64) -> f64 + use<>> {
        let trunk = self.trunk()?;
        let Kind::Number { unit: Some(unit), .. } = &self.kind else { return None };
        let per_cm = match unit.as_str() {
            "mm" => 10.0,
            "cm" => 1.0,
            "m" => 0.01,
            _ => return None,
        };
        Some(move |value| trunk.area_cm2(value / per_cm))
    }
}

impl Plot {
    /// The trait that tells how strong a tree grows: the first number called `trunk_diameter`, else
    /// `trunk_girth`, alone or with more behind an underscore, else `vigour` (a number or a score).
    pub fn vigour_trait(&self) -> Option<TraitIx> {
        let first = |is_it: &dyn Fn(&Trait) -> bool| {
            self.head().traits.iter().position(is_it).map(TraitIx::new)
        };
        first(&|one| one.trunk() == Some(Trunk::Diameter))
            .or_else(|| first(&|one| one.trunk() == Some(Trunk::Girth)))
            .or_else(|| first(&|one| one.id.as_str() == "vigour" && one.disease.is_none()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::TraitId;

    fn measured(id: &str, unit: Option<&str>) -> Trait {
        Trait {
            id: TraitId::new(id),
            disease: None,
            label: id.to_owned(),
            kind: Kind::Number { unit: unit.map(str::to_owned), min: None, max: None },
            needs: None,
        }
    }

    /// Plain arithmetic: d = 5.00 cm → 19.635 cm², C = 15.7 cm → 19.615 cm².
    #[test]
    fn area_from_diameter_and_girth() {
        let check = |id: &str, unit, value, expect: Option<f64>| {
            let found = measured(id, unit).trunk_area_cm2().map(|area| area(value));
            assert_eq!(found.is_some(), expect.is_some(), "{id} {unit:?}");
            if let (Some(found), Some(expect)) = (found, expect) {
                assert!((found - expect).abs() < 5e-4, "{id}: {found}");
            }
        };
        check("trunk_diameter", Some("mm"), 50.0, Some(19.635));
        check("trunk_diameter", Some("cm"), 5.0, Some(19.635));
        check("trunk_girth", Some("cm"), 15.7, Some(19.615));
        check("trunk_girth_30cm", Some("m"), 0.157, Some(19.615));
        check("trunk_diameter", None, 50.0, None);
        check("trunk_diameter", Some("in"), 2.0, None);
        check("trunk_diameters", Some("mm"), 50.0, None);
        check("fruit_diameter", Some("mm"), 50.0, None);
    }
}
