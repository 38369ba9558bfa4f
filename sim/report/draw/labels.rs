//! Labels next to the ends of curves, moved apart where they would overlap.

/// Centres of labels with the given `heights`, as near as possible to `wished`, within `from..to`, without overlap.
///
/// In the order given. Labels that collide share the displacement: each cluster is centred on the mean of its wished
/// centres (the least-squares solution). If there is no room for all, they are set edge to edge from `from` on.
pub(crate) fn spread_apart(wished: &[f64], heights: &[f64], from: f64, to: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..wished.len()).collect();
    order.sort_by(|&a, &b| wished[a].total_cmp(&wished[b]));
    // Labels that touch: their indices in order, their total height and their upper edge.
    struct Cluster {
        members: Vec<usize>,
        height: f64,
        top: f64,
    }
    let total: f64 = heights.iter().sum();
    let to = to.max(from + total);
    let mut clusters: Vec<Cluster> = Vec::new();
    let top_of = |cluster: &Cluster| {
        let mut above = 0.0;
        let mut tops = 0.0;
        for &member in &cluster.members {
            tops += wished[member] - 0.5 * heights[member] - above;
            above += heights[member];
        }
        (tops / cluster.members.len() as f64).clamp(from, to - cluster.height)
    };
    for member in order {
        let mut cluster = Cluster { members: vec![member], height: heights[member], top: 0.0 };
        cluster.top = top_of(&cluster);
        while let Some(above) = clusters.pop_if(|above| above.top + above.height > cluster.top) {
            let members = [above.members, cluster.members].concat();
            cluster = Cluster { members, height: above.height + cluster.height, top: 0.0 };
            cluster.top = top_of(&cluster);
        }
        clusters.push(cluster);
    }
    let mut centres = vec![0.0; wished.len()];
    for cluster in clusters {
        let mut top = cluster.top;
        for member in cluster.members {
            centres[member] = top + 0.5 * heights[member];
            top += heights[member];
        }
    }
    centres
}
