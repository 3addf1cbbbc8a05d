#include "core/words/isolate.h"

#include "core/base/direction.h"

namespace tapwright {
namespace {

Value isolated_value(const Value& value) {
    if (const std::string* text = value.text()) return Value(contained(*text));
    if (const Map* map = value.map()) {
        Map made = *map;
        for (auto& [key, held] : made) held = isolated_value(held);
        return made;
    }
    return value;
}

}  // namespace

std::optional<Job> with_isolated_texts(const Job& job) {
    std::optional<Job> made;
    for (std::size_t i = 0; i < kind_count; ++i)
        with_record_type(kind_at(i), [&]<class R>() {
            for (const R& record : job.all<R>())
                for (const FieldInfo& field : fields(R::kind_of)) {
                    if (field.form != FieldForm::text && field.form != FieldForm::text_map) continue;
                    const Value value = job.get(R::kind_of, record.id, field);
                    Value shown = isolated_value(value);
                    if (shown == value) continue;
                    if (!made) made = job;
                    // A text at the very limit of its length has no room for the isolates and stays as it is.
                    (void)made->set(R::kind_of, record.id, field, shown);
                }
        });
    return made;
}

}  // namespace tapwright
