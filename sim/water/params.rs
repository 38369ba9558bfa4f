//! The water's book as code reads it.

use crate::book_of;

book_of! {
    /// What the model takes from outside about moving water.
    WaterParams in "water" from "params.toml" {
        surface_drift_share,
        shelter_share,
        diffusivity_m2_s,
        scent_layer_share,
        scent_loss_per_s,
    }
}
