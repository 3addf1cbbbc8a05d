#include "ui/screens/readings/record_fault.h"

#include <algorithm>

#include "core/words/faults_text.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

bool is_to_be_put_right(FaultKind kind) {
    switch (kind) {
        case FaultKind::dead:
        case FaultKind::broken:
        case FaultKind::shorted:
        case FaultKind::joint:
        case FaultKind::leak:
        case FaultKind::earth:
        case FaultKind::crossed:
            return true;
        default:
            return false;
    }
}

const Snag* open_snag(const Job& job, const Id& about) {
    for (const Snag& snag : job.all<Snag>())
        if (snag.about == about && snag.state.value_or(SnagState::open) == SnagState::open) return &snag;
    return nullptr;
}

class Recorder {
public:
    Recorder(const Job& job, const Words& words, const Diagnosis& diagnosis)
        : job_(job), words_(words), diagnosis_(diagnosis) {}

    Id about(const Fault& fault) const {
        return fault.points.empty() ? diagnosis_.line().zone_id : id_of(fault.points.front());
    }

    std::string said(const Fault& fault) const {
        Cause alone;
        alone.faults = {fault};
        return words_.text(text_of(job_, diagnosis_, alone));
    }

    void add(const Fault& fault, ChangeList& changes) const {
        if (is_to_be_put_right(fault.kind)) return add_snag(fault, changes);
        const auto put = [&](Map fields) {
            changes.push_back(setting(Kind::point, id_of(fault.points.front()), std::move(fields)));
        };
        switch (fault.kind) {
            case FaultKind::tap:
                changes.push_back(adding(
                    Kind::reading,
                    {{"at", id_of(fault.points.front()).text()}, {"quantity", "tap_w"}, {"value", *fault.value}}));
                return put({{"tap_w", *fault.value}});
            case FaultKind::bypass:
                return put({{"wired", "low_z"}});
            case FaultKind::position:
                return put({{"knob_db", fault.is_off ? Value("off") : Value(*fault.value)}});
            case FaultKind::missing:
                return put({{"state", "fitted"}});
            case FaultKind::wrong_feed:
                return add_feeds(fault, changes);
            case FaultKind::extra:
                return add_found(fault, changes);
            default:
                return;
        }
    }

private:
    Id id_of(std::uint32_t point) const { return job_.all<Point>()[point].id; }

    // What was noted before stays, and what was found stands behind it.
    void add_snag(const Fault& fault, ChangeList& changes) const {
        const Snag* noted = open_snag(job_, about(fault));
        const std::string found = said(fault);
        if (!noted) return changes.push_back(adding(Kind::snag, {{"text", found}, {"about", about(fault).text()}}));
        const std::string before = noted->text.value_or("");
        if (before.find(found) != std::string::npos) return;
        const Message both =
            Message("{before} Found: {found}", {{"before", entered(before)}, {"found", entered(found)}});
        changes.push_back(setting(Kind::snag, noted->id, {{"text", words_.text(both)}}));
    }

    // Of what was not traced only the line is known: where on it is for whoever traces it.
    void add_feeds(const Fault& fault, ChangeList& changes) const {
        const bool is_traced = diagnosis_.line().wiring.points[fault.points.front()].zone != nowhere;
        const Id feed = !is_traced || fault.feed == nowhere ? diagnosis_.line().zone_id : id_of(fault.feed);
        for (const std::uint32_t point : fault.points)
            changes.push_back(setting(Kind::point, id_of(point), {{"fed_from", feed.text()}}));
    }

    // A loudspeaker was there before anybody recorded it; its tap is for whoever looks at it.
    void add_found(const Fault& fault, ChangeList& changes) const {
        const Point& there = job_.all<Point>()[fault.points.front()];
        Map fields{{"kind", "speaker"},
                   {"label", next_label(job_)},
                   {"fed_from", there.id.text()},
                   {"origin", "existing"},
                   {"state", "fitted"}};
        if (there.room) fields.emplace_back("room", there.room->text());
        changes.push_back(adding(Kind::point, std::move(fields)));
    }

    const Job& job_;
    const Words& words_;
    const Diagnosis& diagnosis_;
};

}  // namespace

ChangeList record_of(const Job& job, const Words& words, const Diagnosis& diagnosis, const Cause& cause) {
    const Recorder recorder(job, words, diagnosis);
    ChangeList changes;
    for (const Fault& fault : cause.faults) recorder.add(fault, changes);
    return changes;
}

bool is_noted(const Job& job, const Words& words, const Diagnosis& diagnosis, const Cause& cause) {
    const Recorder recorder(job, words, diagnosis);
    return !cause.faults.empty() && std::all_of(cause.faults.begin(), cause.faults.end(), [&](const Fault& fault) {
        const Snag* noted = is_to_be_put_right(fault.kind) ? open_snag(job, recorder.about(fault)) : nullptr;
        return noted && noted->text.value_or("").find(recorder.said(fault)) != std::string::npos;
    });
}

}  // namespace tapwright::ui
