#include "ui/app/app.h"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/session/session.h"
#include "ui/app/shortcuts.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {
namespace {

constexpr double saved_seconds = 5, note_seconds = 8;

bool is_typing() {
    return ImGui::GetActiveID() != 0 && ImGui::GetInputTextState(ImGui::GetActiveID()) != nullptr;
}

bool is_error(Tone tone) {
    return tone == Tone::stop || tone == Tone::warning;
}

}  // namespace

App::App(Host& host, AppParts parts) : host_(host), parts_(std::move(parts)) {}

void App::set_session(Session* session) {
    session_ = session;
    for (Stack& each : stacks_) each.clear();
    opening_.clear();
    kept_.reset();
    messages_.clear();
    refused_ = {};
    if (session_ && !session_->can_write())
        say(Tone::warning,
            Message("This job can only be read: its file is write-protected. Copy the file to change it."));
}

App::Stack& App::stack() {
    if (!session_ && parts_.opening) {
        if (opening_.empty()) opening_.push_back({parts_.opening()});
        return opening_;
    }
    Stack& stack = stacks_[static_cast<std::size_t>(place_)];
    if (stack.empty()) stack.push_back({parts_.root(place_)});
    return stack;
}

std::size_t App::depth() const {
    if (!session_ && parts_.opening) return opening_.size();
    return stacks_[static_cast<std::size_t>(place_)].size();
}

void App::say(Tone tone, Message sentence) {
    const auto gives_way = [&](const Notice& message) { return is_error(message.tone) == is_error(tone); };
    messages_.erase(std::remove_if(messages_.begin(), messages_.end(), gives_way), messages_.end());
    const Notice said{tone, std::move(sentence), turn_, is_error(tone) ? -1 : seconds_ + note_seconds};
    messages_.insert(is_error(tone) ? messages_.begin() : messages_.end(), said);
}

void App::shortcuts(Context& context) {
    if (ImGui::GetTopMostPopupModal()) return;
    Requests& requests = context.requests;
    for (const Shortcut& pressed : pressed_shortcuts(is_typing(), has_places())) switch (pressed.command) {
            case KeyCommand::place:
                requests.show(pressed.place);
                break;
            case KeyCommand::back:
                requests.back();
                break;
            case KeyCommand::find:
                if (parts_.find) requests.open(parts_.find());
                break;
            case KeyCommand::undo:
                requests.undo();
                break;
            case KeyCommand::redo:
                requests.redo();
                break;
            case KeyCommand::shortcuts:
                requests.open(shortcuts_page());
                break;
            case KeyCommand::moving:
                break;
        }
}

// What was saved, and notes, go by themselves: one frame then, none before.
void App::let_notices_go(Context& context) {
    seconds_ = context.seconds;
    double next = -1;
    const auto is_over = [&](double until) {
        if (until >= 0 && until > seconds_) next = next < 0 ? until : std::min(next, until);
        return until >= 0 && until <= seconds_;
    };
    if (kept_ && is_over(kept_->until)) kept_.reset();
    messages_.erase(std::remove_if(messages_.begin(), messages_.end(),
                                   [&](const Notice& message) { return is_over(message.until); }),
                    messages_.end());
    constexpr double thousand = 1000;
    if (next >= 0) host_.wake_after(static_cast<int>(std::ceil((next - seconds_) * thousand)));
}

void App::make(std::vector<Change>& changes) {
    for (Change& change : changes) {
        if (!session_) {
            say(Tone::stop, Message("No job is open, so nothing was saved: open a job or create one first."));
            return;
        }
        const Result<void> made = change.make(*session_);
        if (made.ok()) {
            keep_in_sight(change.what);
        } else if (change.refused_in_place) {
            refused_ = made.refusal().message;
            refused_at_press_ = press_;
        } else {
            say(Tone::stop, made.refusal().message);
        }
    }
}

void App::keep_in_sight(const Message& what) {
    kept_ = Kept{{host_.time_of_day(), what}, seconds_ + saved_seconds};
}

void App::take_back(const std::function<Result<Message>(Session&)>& how) {
    if (!session_ || !how) return;
    const Result<Message> taken = how(*session_);
    if (taken.ok())
        keep_in_sight(taken.value());
    else
        say(Tone::note, taken.refusal().message);
}

// Errors belong to the page they came up on; those of this very turn are what the next page is about.
void App::leave_page() {
    const auto is_over = [&](const Notice& message) { return message.turn != turn_ && is_error(message.tone); };
    messages_.erase(std::remove_if(messages_.begin(), messages_.end(), is_over), messages_.end());
    if (!refused_.empty() && refused_at_press_ == press_) say(Tone::stop, refused_);
    refused_ = {};
}

void App::settle(Requests& requests) {
    ++turn_;
    const std::shared_ptr<Screen> before = stack().back().screen;
    // Changes first: what they point at belongs to screens that the requests below may put away.
    make(requests.changes);
    if (requests.undo_wanted) take_back(parts_.undo);
    if (requests.redo_wanted) take_back(parts_.redo);
    for (auto& [tone, sentence] : requests.messages) say(tone, std::move(sentence));
    std::vector<std::function<void()>> later = std::move(requests.later);
    for (const std::function<void()>& action : later) {
        Stack& screens = stack();
        if (action)
            action();
        else if (screens.size() > 1)
            screens.pop_back();
    }
    // The place in hand tapped again leads back to its first screen.
    if (requests.place_wanted >= 0) {
        const auto place = static_cast<PlaceId>(requests.place_wanted);
        if (place == place_ && stacks_[static_cast<std::size_t>(place)].size() > 1)
            stacks_[static_cast<std::size_t>(place)].resize(1);
        place_ = place;
        kept_.reset();  // said where it was saved; the history has it from now on
    }
    if (std::exchange(list_opened_, false) && stack().size() > 1) stack().pop_back();
    for (std::shared_ptr<Screen>& screen : requests.opened) stack().push_back({std::move(screen)});
    if (stack().back().screen != before) {
        const Stack& screens = stack();
        const auto is_before = [&](const Shown& shown) { return shown.screen == before; };
        if (std::none_of(screens.begin(), screens.end(), is_before))
            if (Message typed = before->on_the_way_out(); !typed.empty()) say(Tone::note, std::move(typed));
        leave_page();
    }
    constexpr int soon_ms = 40;
    if (parts_.after_frame && parts_.after_frame()) host_.wake_after(soon_ms);
}

void App::file_chosen(FilePurpose purpose, const std::string& path) {
    if (parts_.file_chosen) parts_.file_chosen(purpose, path);
}

void App::files_dropped(const std::vector<std::string>& paths) {
    if (parts_.files_dropped) parts_.files_dropped(paths);
}

std::string App::window_title() {
    return parts_.window_title ? words_.text(parts_.window_title()) : std::string("Tapwright");
}

}  // namespace tapwright::ui
