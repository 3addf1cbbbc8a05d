#include "platform/web/web_photos.h"

#include <algorithm>
#include <utility>

#include "core/base/sha256.h"
#include "platform/photos/photos.h"
#include "platform/web/page.h"
#include "platform/web/page_folder.h"

namespace tapwright::web {
namespace {

constexpr int original_side = 2560;  // pixels of the longer side: a label on a ceiling can still be read

Refusal not_decoded(const std::string& trouble, const std::string& file) {
    if (trouble != "InvalidStateError" && trouble != "EncodingError") return refused_by_browser(trouble);
    return {Message("{file} is no picture that this browser can show. Take it as JPEG or PNG.",
                    {{"file", code(own_name(file))}})};
}

std::size_t whole(const Value& value) {
    const double* number = value.number();
    return number && *number >= 0 ? static_cast<std::size_t>(*number) : 0;
}

// The page answers with the original's bytes, and the copy's behind them.
Result<PreparedPhoto> prepared(const Answer& answer, const std::string& file) {
    if (!answer.trouble.empty()) return not_decoded(answer.trouble, file);
    const std::size_t original = whole(answer.value.find("original"));
    if (original == 0 || original >= answer.bytes.size()) return not_decoded("EncodingError", file);
    PreparedPhoto photo;
    photo.bytes = answer.bytes.substr(0, original);
    photo.copy = answer.bytes.substr(original);
    photo.extension = "jpg";
    photo.sha256 = hex(sha256(photo.bytes));
    return photo;
}

}  // namespace

void WebPhotos::take(const Id& about, const std::vector<std::string>& files) {
    if (done_ == all_) done_ = all_ = 0;
    for (const std::string& file : files) waiting_.push_back({about, file});
    all_ += files.size();
    take_next();
}

// One at a time: a decoded photo of 12 megapixels is 48 MB.
void WebPhotos::take_next() {
    if (is_busy_ || waiting_.empty()) return;
    is_busy_ = true;
    const Wanted wanted = waiting_.front();
    waiting_.pop_front();
    const Value question = Map{{"name", wanted.file},
                               {"most_bytes", static_cast<double>(photos::most_bytes)},
                               {"original_side", static_cast<double>(original_side)},
                               {"copy_side", static_cast<double>(photos::copy_side)}};
    ask_page("photo", question, [this, wanted, round = round_](const Answer& answer) {
        is_busy_ = false;
        if (round == round_) {
            ready_.push_back({wanted.about, prepared(answer, wanted.file)});
            done_ += 1;
        }
        take_next();
    });
}

void WebPhotos::cancel() {
    round_ += 1;
    waiting_.clear();
    ready_.clear();
    done_ = all_ = 0;
    pixels_.clear();
}

std::vector<ReadyPhoto> WebPhotos::take_ready() {
    return std::exchange(ready_, {});
}

Result<ui::PhotoPixels> WebPhotos::pixels(const std::string& sha256, int longest) {
    if (!jobs_.session()) return Refusal{Message("No job is open.")};
    const std::string key = sha256 + "/" + std::to_string(longest);
    if (const auto found = pixels_.find(key); found != pixels_.end()) {
        Result<ui::PhotoPixels> made = std::move(found->second);
        const bool is_on_its_way = made.ok() && made->width == 0;
        pixels_.erase(found);
        if (is_on_its_way) pixels_.emplace(key, ui::PhotoPixels());
        return made;
    }
    const std::optional<Digest> digest = digest_from(sha256);
    if (!digest) return Refusal{Message("This photo's record names no picture.")};
    TAPWRIGHT_TAKE(blob, jobs_.session()->get_blob(*digest));
    pixels_.emplace(key, ui::PhotoPixels());
    const Value question = Map{{"lent", static_cast<double>(lend_bytes(blob.copy.empty() ? blob.original : blob.copy))},
                               {"longest", static_cast<double>(longest)}};
    ask_page("pixels", question, [this, key, round = round_](const Answer& answer) {
        if (round != round_) return;
        const auto found = pixels_.find(key);
        if (found == pixels_.end()) return;
        ui::PhotoPixels made;
        made.width = static_cast<int>(whole(answer.value.find("width")));
        made.height = static_cast<int>(whole(answer.value.find("height")));
        made.rgba.assign(answer.bytes.begin(), answer.bytes.end());
        const bool is_good = answer.trouble.empty() && made.width > 0;
        found->second = is_good ? Result<ui::PhotoPixels>(std::move(made))
                                : Refusal{Message("This photo cannot be shown: the browser cannot decode it.")};
    });
    return ui::PhotoPixels();
}

}  // namespace tapwright::web
