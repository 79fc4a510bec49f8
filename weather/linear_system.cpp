#include "weather/linear_system.hpp"

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

}  // namespace dullspell
