//! Lists that are indexed by ids of their items.

/// Lets a list of items be indexed by their id, a struct of one number: `indexed_by!(FishId: Fish)`.
macro_rules! indexed_by {
    ($id:ty: $item:ty) => {
        impl std::ops::Index<$id> for Vec<$item> {
            type Output = $item;

            #[inline]
            fn index(&self, id: $id) -> &$item {
                &self[id.0]
            }
        }

        impl std::ops::IndexMut<$id> for Vec<$item> {
            #[inline]
            fn index_mut(&mut self, id: $id) -> &mut $item {
                &mut self[id.0]
            }
        }
    };
}
pub(crate) use indexed_by;
