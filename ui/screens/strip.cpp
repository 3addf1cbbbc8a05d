// The load strip of the zone in hand, always in sight; a touch opens a block or chooses another zone.
#include "core/units/text.h"
#include "ui/load_strip.h"
#include "ui/screens/forms.h"
#include "ui/screens/parts.h"
#include "ui/screens/words.h"

namespace tapwright::ui {
namespace {

class Strip : public Screen {
public:
    explicit Strip(Shared& shared) : shared_(shared) {}
    std::string title(Context&) override { return "Load"; }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        const Zone* zone = shared_.zone_in_hand(job);
        if (!zone) return;
        const LoadStripTouch touch = load_strip(context, "strip", data_of(context, *zone));
        if (touch.block >= 0 && static_cast<std::size_t>(touch.block) < points_.size()) {
            shared_.point = points_[static_cast<std::size_t>(touch.block)];
            context.requests.open(point_screen(shared_, shared_.point));
        } else if (touch.tapped && job.count(Kind::zone) > 1) {
            pick_zone_in_hand(context, shared_);
        }
    }

private:
    LoadStripData data_of(Context& context, const Zone& zone) {
        const Job& job = context.session->job();
        const Derived& derived = context.session->derived();
        const std::uint32_t place = *job.place<Zone>(zone.id);
        const ZoneState& state = derived.zones[place];
        const HeadroomWords words = headroom_words(state.margin, state.unrecorded);
        LoadStripData data;
        data.title = name_of(job, zone.id);
        data.headroom = state.low_impedance ? "-" : words.figure;
        data.headroom_word = state.low_impedance ? "low impedance: no tap sum" : words.word;
        data.load = load_words(state.margin);
        data.tone = state.low_impedance ? Tone::plain : words.tone;
        data.compact = !context.wide;
        if (state.margin.limit) data.limit_w = state.margin.limit->value();
        if (state.margin.reserve) data.reserve_w = state.margin.reserve->value();
        points_.clear();
        for (std::size_t i = 0; i < derived.points.size(); ++i) {
            if (derived.points[i].zone != place || !derived.points[i].drawn) continue;
            const Point& point = job.all<Point>()[i];
            points_.push_back(point.id);
            data.blocks.push_back({point.id.text(), name_of(job, point.id), derived.points[i].drawn->value(),
                                   point.tap_w ? LoadBlock::Kind::recorded : LoadBlock::Kind::planned,
                                   point.id == shared_.point});
        }
        if (state.unrecorded > Watts(0))
            data.blocks.push_back(
                {"unrecorded", "not recorded", state.unrecorded.value(), LoadBlock::Kind::unrecorded, false});
        if (!state.amplifier) return data;
        const AmplifierState& amplifier = derived.amplifiers[*state.amplifier];
        const HeadroomWords below = headroom_words(amplifier.margin, amplifier.unrecorded);
        data.amplifier = name_of(job, job.all<Amplifier>()[*state.amplifier].id) + ": " + load_words(amplifier.margin);
        data.amplifier_load_w = amplifier.margin.load.value();
        if (amplifier.margin.limit) data.amplifier_limit_w = amplifier.margin.limit->value();
        data.amplifier_tone = below.tone == Tone::note ? Tone::plain : below.tone;
        return data;
    }

    Shared& shared_;
    std::vector<Id> points_;
};

}  // namespace

std::unique_ptr<Screen> strip_screen(Shared& shared) {
    return std::make_unique<Strip>(shared);
}

}  // namespace tapwright::ui
