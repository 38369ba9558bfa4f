//! The parameters of angler and tackle, read from their book.

use crate::book_of;

book_of! {
    /// Parameters of tackle and of the angler who holds it.
    AnglerParams in "angler" from "params.toml" {
        wind_in_m_s,
        load_s,
        cast_flight_s,
        sink_m_s,
        unhook_s,
        feed_s,
        move_line_s,
        snag_s,
        time_spread_ln,
        cast_spread_share,
        recast_beyond_m,
        snag_share,
        hooks_share,
        hooks_share_feeding,
        lands_share,
        loss_per_kg,
        fight_s,
        fight_s_kg,
        touch_up_per_h,
        touch_below_per_h,
        guess_spread_ln,
        strikes_at_touch,
        fouls_at_strike,
        fouls_at_wind_in,
        foul_fight_times,
        foul_lands_share,
    }
}
