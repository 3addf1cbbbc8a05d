#include "tests/faults/least_walk.h"

#include "core/base/ensure.h"

namespace tapwright::test {
namespace {

constexpr double hardly = 1e-6;  // sums of the same costs in another order are the same

class LeastWalk {
public:
    explicit LeastWalk(const SimulatedLine& line) : line_(line), derived_(derive(line.job)) {}

    bool within(double minutes) {
        // With as few visits as do: each further one multiplies what there is to try.
        for (const bool listens : {false, true})
            for (const bool reads_dc : {false, true}) {
                FaultQuestion question = zone_alone();
                double left = minutes;
                if (listens) {
                    left -= costs_.listen;
                    for (std::size_t speaker = 0; speaker < line_.feed.size(); ++speaker)
                        question.heard.push_back({id(speaker), line_.is_silent(speaker) ? Heard::silent : Heard::ok});
                }
                if (reads_dc) {
                    left -= costs_.at_amplifier;
                    question.with.push_back(reading_at(line_, Id("z"), Measured::dc_ohms));
                }
                if (left < hardly) continue;
                starts_.push_back({question, left});
            }
        for (std::size_t visits = 0; static_cast<double>(visits) * costs_.look_at_tap < minutes; ++visits)
            for (const auto& [question, left] : starts_)
                if (visit(question, 0, visits, left)) return true;
        return false;
    }

private:
    static Id id(std::size_t speaker) { return Id(SimulatedLine::label(speaker)); }

    FaultQuestion zone_alone() const {
        FaultQuestion question;
        question.zone = Id("z");
        question.with.push_back(reading_at(line_, Id("z")));
        return question;
    }

    // Exactly so many more visits to loudspeakers from `first` on.
    bool visit(const FaultQuestion& question, std::size_t first, std::size_t visits, double left) {
        if (visits == 0) {
            const Result<Diagnosis> diagnosis = Diagnosis::of(line_.job, derived_, question);
            TAPWRIGHT_ENSURE(diagnosis.ok());
            return diagnosis->is_sure();
        }
        if (left - static_cast<double>(visits) * costs_.look_at_tap < hardly) return false;
        for (std::size_t speaker = first; speaker < line_.feed.size(); ++speaker) {
            const Watts tap(line_.tap[speaker]);
            FaultQuestion looked = question;
            looked.taps.push_back({id(speaker), tap});
            if (visit(looked, speaker + 1, visits - 1, left - costs_.look_at_tap)) return true;
            if (left - costs_.at_loudspeaker < hardly) continue;
            FaultQuestion read = question;
            read.with.push_back(reading_at(line_, id(speaker)));
            if (visit(read, speaker + 1, visits - 1, left - costs_.at_loudspeaker)) return true;
            if (left - costs_.at_loudspeaker - costs_.look_from_ladder < hardly) continue;
            read.taps.push_back({id(speaker), tap});
            if (visit(read, speaker + 1, visits - 1, left - costs_.at_loudspeaker - costs_.look_from_ladder))
                return true;
        }
        return false;
    }

    const SimulatedLine& line_;
    Derived derived_;
    MeasurementCosts costs_{};
    std::vector<std::pair<FaultQuestion, double>> starts_;
};

}  // namespace

bool could_be_sure_within(const SimulatedLine& line, double minutes) {
    return LeastWalk(line).within(minutes);
}

}  // namespace tapwright::test
