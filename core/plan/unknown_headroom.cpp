#include "core/plan/unknown_headroom.h"

#include "core/calc/loads.h"

namespace tapwright {
namespace {

class Teller {
public:
    Teller(const Job& job, const Derived& derived, std::uint32_t zone)
        : job_(job), derived_(derived), zone_(zone), state_(derived.zones[zone]) {}

    std::optional<Message> tell() {
        if (!state_.margin.limit) record(Message("the limit of {zone}", {{"zone", zone_name()}}));
        if (state_.channel)
            look_at_channel(*state_.channel);
        else
            record(Message("the output that feeds {zone}", {{"zone", zone_name()}}));
        if (state_.amplifier)
            look_at_amplifier(*state_.amplifier);
        else if (state_.channel)
            record(Message("the amplifier that feeds {zone}", {{"zone", zone_name()}}));
        if (state_.margin.is_open_ended) look_at_taps();
        if (!missing_.empty())
            return Message("What may be added to {zone} is unknown. Record {missing}, then try again.",
                           {{"zone", zone_name()}, {"missing", series(missing_)}});
        if (!state_.margin.is_open_ended) return std::nullopt;
        return Message(
            "What may be added to {zone} is unknown: part of it is a fire or emergency line. Leave it to the people "
            "responsible "
            "for "
            "that system.",
            {{"zone", zone_name()}});
    }

private:
    Argument zone_name() const { return entered(name_of(job_, job_.all<Zone>()[zone_].id)); }
    void record(Message what) { missing_.emplace_back(std::move(what)); }

    void look_at_channel(std::uint32_t place) {
        const Argument output = entered(name_of(job_, job_.all<Channel>()[place].id));
        if (!channel_limit_on_the_way(job_, derived_, place))
            record(Message("the rating of {output}", {{"output", output}}));
        if (derived_.channels[place].margin.is_open_ended && !state_.margin.is_open_ended)
            record(Message("every tap on {output}", {{"output", output}}));
    }

    void look_at_amplifier(std::uint32_t place) {
        const AmplifierState& amplifier = derived_.amplifiers[place];
        const Argument name = entered(name_of(job_, job_.all<Amplifier>()[place].id));
        // With its only output it shares a rating, which is asked for there.
        const bool shares = amplifier.only_channel && amplifier.only_channel == state_.channel;
        if (!shares && !amplifier_limit_on_the_way(job_, derived_, place))
            record(Message("the rating of {amplifier}", {{"amplifier", name}}));
        const bool is_said = state_.channel && derived_.channels[*state_.channel].margin.is_open_ended;
        if (amplifier.margin.is_open_ended && !is_said)
            record(Message("every tap on {amplifier}", {{"amplifier", name}}));
    }

    // The loudspeakers of the zone that count and have no tap, the first few by name.
    void look_at_taps() {
        constexpr std::size_t most_named = 5;
        std::vector<Argument> names;
        std::int64_t more = 0;
        const auto points = job_.all<Point>();
        for (std::size_t i = 0; i < points.size(); ++i) {
            const bool counts = points[i].kind == PointKind::speaker && points[i].wired != Wired::off;
            if (derived_.points[i].zone != zone_ || !counts || derived_.points[i].drawn) continue;
            if (names.size() < most_named)
                names.emplace_back(entered(name_of(job_, points[i].id)));
            else
                ++more;
        }
        if (more > 0) names.emplace_back(plural("{count} more", "{count} more", more));
        if (!names.empty())
            record(Message("the tap of {points}, or a valid reading of {zone}",
                           {{"points", series(names)}, {"zone", zone_name()}}));
    }

    const Job& job_;
    const Derived& derived_;
    std::uint32_t zone_;
    const ZoneState& state_;
    std::vector<Argument> missing_;
};

}  // namespace

std::optional<Message> unknown_headroom(const Job& job, const Derived& derived, std::uint32_t zone) {
    return Teller(job, derived, zone).tell();
}

}  // namespace tapwright
