//! The parameters of the water, read from its book.

use crate::book_of;

book_of! {
    /// Parameters of moving water.
    WaterParams in "water" from "params.toml" {
        surface_drift_share,
        shelter_share,
        diffusivity_m2_s,
        scent_layer_share,
        scent_loss_per_s,
    }
}
