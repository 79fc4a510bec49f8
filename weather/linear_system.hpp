#pragma once

// Systems of linear equations, solved in one source: each that expands the library's templates by
// itself takes a compiler half a minute.

#include <Eigen/Core>

namespace dullspell {

/// x of `matrix x = right`, for any number of right sides (columns).
/// @param matrix  n x n, symmetric and positive definite
Eigen::MatrixXd solve_symmetric(const Eigen::MatrixXd& matrix, const Eigen::MatrixXd& right);

/// x of `matrix x = right`.
/// @param matrix  n x n, of full rank
Eigen::VectorXd solve_square(const Eigen::MatrixXd& matrix, const Eigen::VectorXd& right);

/// The x that leaves the least sum of squares of `terms x - values`; terms that follow from others
/// get weight 0.
/// @param terms  as many rows as `values`
Eigen::VectorXd least_squares(const Eigen::MatrixXd& terms, const Eigen::VectorXd& values);

/// Lower triangular root of a covariance, which may be singular: what others settle gets zeros.
/// Variances below 1e-12 count as none.
Eigen::MatrixXd lower_root(Eigen::MatrixXd covariance);

}  // namespace dullspell
