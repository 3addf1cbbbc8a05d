// A job in a few lines, for tests: records are made in the order written, each field by its name in the field table.
#pragma once

#include <string>
#include <string_view>

#include "core/base/ensure.h"
#include "core/derive/derived.h"
#include "core/job/job.h"

namespace tapwright {

class JobBuilder {
public:
    JobBuilder() { info("name", "job"); }

    // {"rated_w", 180.0}, {"output", "low_z"}, {"knobs", Map{{"a", -6.0}}}, {"taps_w", List{5.0, 10.0}} ...
    JobBuilder& add(std::string_view kind_word, std::string_view id, const Map& fields = {}) {
        const Kind kind = *kind_from_singular(kind_word);
        job_.make(kind, Id(id), {.clock = 0, .writer = 0, .batch = ++made_, .index = 0});
        for (const std::string_view key : {"name", "label"})
            if (find_field(kind, key)) set(kind_word, id, key, std::string(id));
        for (const auto& [key, value] : fields) set(kind_word, id, key, value);
        return *this;
    }
    JobBuilder& set(std::string_view kind_word, std::string_view id, std::string_view key, const Value& value) {
        const Kind kind = *kind_from_singular(kind_word);
        const FieldInfo* field = find_field(kind, key);
        TAPWRIGHT_ENSURE(field);
        TAPWRIGHT_ENSURE(job_.set(kind, Id(id), *field, value).ok());
        return *this;
    }
    JobBuilder& info(std::string_view key, const Value& value) { return set("job", "job", key, value); }
    JobBuilder& remove(std::string_view kind_word, std::string_view id) {
        job_.remove(*kind_from_singular(kind_word), Id(id));
        return *this;
    }

    // A loudspeaker of type `s` with a tap.
    JobBuilder& speaker(std::string_view id, std::string_view fed_from, double tap_w, const Map& more = {}) {
        Map fields{{"kind", "speaker"}, {"fed_from", std::string(fed_from)}, {"type", "s"}, {"tap_w", tap_w}};
        fields.insert(fields.end(), more.begin(), more.end());
        return add("point", id, fields);
    }
    // `count` of them as a daisy chain: <prefix>1, <prefix>2, ...
    JobBuilder& chain(std::string_view prefix, int count, std::string_view fed_from, double tap_w,
                      const Map& more = {}) {
        std::string feed(fed_from);
        for (int i = 1; i <= count; ++i) {
            const std::string id = std::string(prefix) + std::to_string(i);
            speaker(id, feed, tap_w, more);
            feed = id;
        }
        return *this;
    }
    // An impedance, the line disconnected unless `more` says otherwise.
    JobBuilder& read(std::string_view id, std::string_view at, double ohms, const Map& more = {}) {
        Map fields{{"at", std::string(at)}, {"quantity", "ohms"}, {"value", ohms}, {"isolated", true}};
        fields.insert(fields.end(), more.begin(), more.end());
        return add("reading", id, fields);
    }

    // "Over range" on a range that can show so many ohms.
    JobBuilder& over_range(std::string_view id, std::string_view at, double range, const Map& more = {}) {
        Map fields{{"at", std::string(at)},
                   {"quantity", "ohms"},
                   {"over_range", true},
                   {"range_ohm", range},
                   {"isolated", true}};
        fields.insert(fields.end(), more.begin(), more.end());
        return add("reading", id, fields);
    }

    const Job& job() const { return job_; }
    operator const Job&() const { return job_; }

private:
    Job job_;
    std::uint32_t made_ = 0;
};

// A loudspeaker type `s` with the taps the trade sells most, an amplifier, a channel and a zone `z` on them.
inline JobBuilder one_zone(double line_v, double limit_w, double rated_w = 180) {
    JobBuilder job;
    job.info("line_v", line_v);
    job.add("speaker_type", "s", {{"taps_w", List{1.0, 2.5, 5.0, 6.0, 7.5, 10.0, 15.0, 30.0, 60.0}}});
    job.add("amplifier", "amp", {{"rated_w", rated_w}});
    job.add("channel", "out", {{"amplifier", "amp"}});
    job.add("zone", "z", {{"channel", "out"}, {"limit_w", limit_w}});
    return job;
}

inline const ZoneState& zone_of(const Job& job, const Derived& derived, std::string_view id) {
    return derived.zones.at(*job.place<Zone>(Id(id)));
}
inline const PointOnLine& point_of(const Job& job, const Derived& derived, std::string_view id) {
    return derived.points.at(*job.place<Point>(Id(id)));
}
inline const Judgement& reading_of(const Job& job, const Derived& derived, std::string_view id) {
    return derived.readings.at(*job.place<Reading>(Id(id)));
}
inline bool has_finding(const Derived& derived, std::string_view code) {
    for (const Finding& finding : derived.findings)
        if (finding.code == code) return true;
    return false;
}

}  // namespace tapwright
