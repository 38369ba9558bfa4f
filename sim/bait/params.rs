//! The parameters of bait, read from its book.

use crate::book_of;

book_of! {
    /// Parameters of bait on a feeder, in the water and on the bed.
    BaitParams in "bait" from "params.toml" {
        opening_spread_ln,
        opening_length_ratio,
        top_strays_share,
        pile_radius_m,
        scatter_radius_m,
        bed_loss_per_s,
        cloud_loss_per_s,
        leach_fast_share,
        leach_fast_time_s,
        leach_slow_time_s,
        leach_step_s,
        puff_radius_m,
        cast_wash_share,
    }
}
