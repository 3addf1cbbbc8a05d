#include "core/job/to_do.h"

namespace tapwright {

bool is_to_be_fitted(const Point& point, bool emergency) {
    return point.kind == PointKind::speaker && !emergency && point.state && !is_fitted(point);
}

bool is_to_be_heard(const Point& point, bool emergency) {
    return point.kind == PointKind::speaker && !emergency && !is_to_be_fitted(point, emergency) && !point.heard &&
           point.wired != Wired::off;
}

bool has_tap_to_be_seen(const Point& point, bool emergency) {
    return point.kind == PointKind::speaker && !emergency && !is_to_be_fitted(point, emergency) && !point.tap_w &&
           point.wired.value_or(Wired::line) == Wired::line;
}

}  // namespace tapwright
