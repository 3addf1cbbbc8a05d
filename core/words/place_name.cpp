#include "core/words/place_name.h"

namespace tapwright {
namespace {

Message title_of(InterfaceKind kind) {
    switch (kind) {
        case InterfaceKind::fire_mute:
            return Message("Music muted by the fire alarm");
        case InterfaceKind::paging:
            return Message("Paging");
        case InterfaceKind::bells:
            return Message("Bells");
        case InterfaceKind::override_24v:
            return Message("24 V override supply");
        case InterfaceKind::background:
            return Message("Background music");
    }
    return {};
}

}  // namespace

Argument place_name(const Job& job, const Id& id) {
    if (const Interface* link = job.find<Interface>(id); link && link->kind) return title_of(*link->kind);
    return entered(name_of(job, id));
}

Argument place_name(const Job& job, const std::optional<Id>& id) {
    if (!id) return Message("No place");
    return place_name(job, *id);
}

}  // namespace tapwright
