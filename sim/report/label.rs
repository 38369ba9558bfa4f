//! Labels beside the ends of curves, spread apart where they would overlap.

/// Places for labels of `heights` that wish to be centred at `wished`, within `from..to`, without overlap
/// and in the order of their wishes; returns centres in the order given.
///
/// Labels that collide share the displacement: each crowded run is centred on the mean of its wishes (the
/// least-squares answer). If there is no room for all, they are set edge to edge from `from` on.
pub(super) fn spread(wished: &[f64], heights: &[f64], from: f64, to: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..wished.len()).collect();
    order.sort_by(|&a, &b| wished[a].total_cmp(&wished[b]));
    // A run: its members in order, its height, and where its upper edge wishes to be.
    struct Run {
        members: Vec<usize>,
        height: f64,
        top: f64,
    }
    let total: f64 = heights.iter().sum();
    let to = to.max(from + total);
    let mut runs: Vec<Run> = Vec::new();
    let settle = |run: &Run| {
        let mut above = 0.0;
        let mut tops = 0.0;
        for &member in &run.members {
            tops += wished[member] - 0.5 * heights[member] - above;
            above += heights[member];
        }
        (tops / run.members.len() as f64).clamp(from, to - run.height)
    };
    for member in order {
        let mut run = Run { members: vec![member], height: heights[member], top: 0.0 };
        run.top = settle(&run);
        while let Some(above) = runs.pop_if(|above| above.top + above.height > run.top) {
            let members = [above.members, run.members].concat();
            run = Run { members, height: above.height + run.height, top: 0.0 };
            run.top = settle(&run);
        }
        runs.push(run);
    }
    let mut centres = vec![0.0; wished.len()];
    for run in runs {
        let mut top = run.top;
        for member in run.members {
            centres[member] = top + 0.5 * heights[member];
            top += heights[member];
        }
    }
    centres
}
