// A zone's records as a tree of plain numbers for core/line. Used inside core/calc alone.
#pragma once

#include <algorithm>

#include "core/calc/line_state.h"
#include "core/line/transformer.h"

namespace tapwright {

// What a loudspeaker puts across the line, at a frequency where its type has a transformer model.
// A model whose windings leave nothing for the loudspeaker is not used (finding model_not_possible).
class SpeakerLoads {
public:
    SpeakerLoads(const Job& job, std::optional<Hertz> hz) : job_(job), hz_(hz) {}

    void get(const WiredPoint& point, double& load) const { load = point.draw.siemens; }
    void get(const WiredPoint& point, std::complex<double>& load);

private:
    const Job& job_;
    std::optional<Hertz> hz_;
    std::uint32_t last_type_ = nowhere;  // neighbours are mostly alike: the last answer is kept
    double last_siemens_ = 0;
    std::complex<double> last_load_;
};

// Positions a reading gives, by point, for quick finding.
class GivenKnobs {
public:
    GivenKnobs(const Job& job, const KnobMap* given);
    const Knob* find(std::uint32_t point) const;

private:
    std::vector<std::pair<std::uint32_t, Knob>> by_point_;
};

AttenuatorNetwork network_of(const Job& job, const WiredPoint& point, std::uint32_t place, const SolveOptions& options,
                             const GivenKnobs& given);

// Appends a zone's source and the points order[first] .. order[last - 1]. `rows[i - base]` becomes the row of
// order[i]'s incoming terminals; an attenuator's output terminals are the row after it.
template <class Scalar>
class TreeBuilder {
public:
    TreeBuilder(const Job& job, const Wiring& wiring, const SolveOptions& options, std::uint32_t base)
        : base_(base),
          job_(job),
          wiring_(wiring),
          options_(options),
          given_(job, options.given),
          loads_(job, options.hz) {}

    void add(const Stretch& stretch, std::uint32_t known, LineTree<Scalar>& tree, std::vector<LineRow>& rows) {
        const LineRow source = tree.add_source(wiring_.zones[stretch.zone].line_v);
        for (std::uint32_t i = stretch.first; i < stretch.last; ++i) {
            const std::uint32_t place = wiring_.order[i];
            const WiredPoint& point = wiring_.points[place];
            Scalar load = 0;
            if (place < known && counts(point)) loads_.get(point, load);
            const LineRow row = tree.add_point(feed_row(point, stretch, source, rows), Ohms(point.run_ohm), load);
            rows[i - base_] = row;
            if (point.kind != PointKind::attenuator) continue;
            tree.add_attenuator(row,
                                place < known ? network_of(job_, point, place, options_, given_) : straight_through());
        }
    }

private:
    bool counts(const WiredPoint& point) const {
        const bool is_found = is_found_later(point, options_.taken);
        return (point.connected || options_.planned) && !is_found;
    }

    LineRow feed_row(const WiredPoint& point, const Stretch& stretch, LineRow source,
                     const std::vector<LineRow>& rows) const {
        if (point.feed == nowhere || wiring_.position[point.feed] < stretch.first) return source;
        const LineRow feed = rows[wiring_.position[point.feed] - base_];
        const bool behind = wiring_.points[point.feed].kind == PointKind::attenuator && !point.feed_in;
        return behind ? feed + 1 : feed;
    }

    std::uint32_t base_;
    const Job& job_;
    const Wiring& wiring_;
    const SolveOptions& options_;
    GivenKnobs given_;
    SpeakerLoads loads_;
};

}  // namespace tapwright
