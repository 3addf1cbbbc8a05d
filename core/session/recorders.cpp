#include "core/session/recorders.h"

#include <algorithm>
#include <set>

namespace tapwright {
namespace {

constexpr std::size_t length_of_day = 10;

// The values a field had, each with whom it came from last; no person and no day where it came with the point.
using Past = std::map<std::string, Recorder>;

class FieldPasts {
public:
    explicit FieldPasts(const std::vector<std::string>& fields) : fields_(fields) {}

    void take(const Batch& batch) {
        if (batch.undoes) return;
        std::set<std::string> made;
        for (const Op& op : batch.ops)
            if (op.kind == "point" && op.is_existence() && !op.is_removal()) made.insert(op.id);
        for (const Op& op : batch.ops) {
            const bool is_asked = op.kind == "point" && op.value != "null" &&
                                  std::find(fields_.begin(), fields_.end(), op.field) != fields_.end();
            if (!is_asked) continue;
            past_[{op.field, op.id}][op.value] =
                made.contains(op.id) ? Recorder() : Recorder{batch.person, batch.time.substr(0, length_of_day)};
        }
    }

    Recorders answer(const Session& session) const {
        Recorders all;
        for (const auto& [at, values] : past_) {
            const auto& [field, point] = at;
            if (!session.job().has(Kind::point, Id(point))) continue;
            const auto now = values.find(session.last_value(Kind::point, point, field));
            if (now != values.end() && now->second != Recorder()) all[field].emplace(point, now->second);
        }
        return all;
    }

private:
    const std::vector<std::string>& fields_;
    std::map<std::pair<std::string, std::string>, Past> past_;  // by field and point
};

}  // namespace

Result<Recorders> recorders_of(const Session& session, const std::vector<std::string>& fields) {
    FieldPasts pasts(fields);
    const auto take = [&](const Batch& batch) -> Result<void> {
        pasts.take(batch);
        return done();
    };
    TAPWRIGHT_PASS(session.for_each_batch(take));
    return pasts.answer(session);
}

}  // namespace tapwright
