//! The macro that makes the struct of one book's values.

/// Makes the struct of one book's values: a field for each row, in the order written here.
///
/// `sim/build.rs` writes the call from the book's `params.toml`, so that each field is documented as its row is.
macro_rules! book_struct {
    ($(#[$about:meta])* $name:ident from $subject:literal {
        $($(#[$row:meta])* $field:ident,)+
    }) => {
        $(#[$about])*
        #[derive(Clone, Debug, PartialEq)]
        pub struct $name {
            $($(#[$row])* pub $field: f64,)+
        }

        impl $name {
            /// Names of the rows, in order.
            pub const FIELDS: &'static [&'static str] = &[$(stringify!($field)),+];

            /// The built-in book.
            #[must_use]
            pub fn book() -> $crate::params::Book {
                const TEXT: &str = include_str!(concat!(
                    env!("CARGO_MANIFEST_DIR"),
                    "/sim/",
                    $subject,
                    "/params.toml"
                ));
                // Reading the text takes most of the time in which a scenario is read, so it is done once.
                static BOOK: std::sync::LazyLock<$crate::params::Book> =
                    std::sync::LazyLock::new(|| {
                        $crate::params::Book::built_in($subject, TEXT, $name::FIELDS)
                    });
                BOOK.clone()
            }

            /// From one day's values, in the order of [`Self::FIELDS`].
            ///
            /// # Panics
            ///
            /// If there are fewer values than fields.
            #[must_use]
            pub fn from_values(values: &[f64]) -> Self {
                let mut next = values.iter().copied();
                Self { $($field: next.next().expect("a value for each row of the book")),+ }
            }

            /// The values, in the order of [`Self::FIELDS`].
            #[must_use]
            pub fn values(&self) -> Vec<f64> {
                vec![$(self.$field),+]
            }

            /// Central values of the built-in book.
            #[must_use]
            pub fn central() -> Self {
                Self::from_values(&Self::book().central())
            }
        }
    };
}

pub(crate) use book_struct;
