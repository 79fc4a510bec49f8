#include "weather/linear_system.hpp"

#include <cmath>

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <Eigen/QR>

namespace dullspell {

Eigen::MatrixXd solve_symmetric(const Eigen::MatrixXd& matrix, const Eigen::MatrixXd& right) {
  return matrix.ldlt().solve(right);
}

Eigen::VectorXd solve_square(const Eigen::MatrixXd& matrix, const Eigen::VectorXd& right) {
  return matrix.partialPivLu().solve(right);
}

Eigen::VectorXd least_squares(const Eigen::MatrixXd& terms, const Eigen::VectorXd& values) {
  return terms.colPivHouseholderQr().solve(values);
}

Eigen::MatrixXd lower_root(Eigen::MatrixXd covariance) {
  constexpr double kSettled = 1e-12;
  const Eigen::Index count = covariance.rows();
  Eigen::MatrixXd root = Eigen::MatrixXd::Zero(count, count);
  for (Eigen::Index j = 0; j < count; ++j) {
    if (covariance(j, j) <= kSettled) continue;
    root.col(j).tail(count - j) = covariance.col(j).tail(count - j) / std::sqrt(covariance(j, j));
    covariance -= root.col(j) * root.col(j).transpose();
  }
  return root;
}

}  // namespace dullspell
