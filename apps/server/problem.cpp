#include "problem.hpp"

#include <nlohmann/json.hpp>

namespace coldwright::server {

std::string_view reason(unsigned status) {
  switch (status) {
    case 200:
      return "OK";
    case 304:
      return "Not Modified";
    case 400:
      return "Bad Request";
    case 404:
      return "Not Found";
    case 405:
      return "Method Not Allowed";
    case 408:
      return "Request Timeout";
    case 413:
      return "Content Too Large";
    case 414:
      return "URI Too Long";
    case 431:
      return "Request Header Fields Too Large";
    case 505:
      return "HTTP Version Not Supported";
    default:
      return "Error";
  }
}

std::string problem_document(unsigned status, std::string_view detail, std::string_view instance) {
  constexpr std::size_t longest = 200;  // enough to recognise a request, no more echo than that
  // about:blank: the status says it all (RFC 9457, section 4.2.1).
  nlohmann::ordered_json document = {
      {"type", "about:blank"}, {"title", reason(status)}, {"status", status}, {"detail", detail}};
  if (!instance.empty()) document["instance"] = instance.substr(0, longest);
  // What a stranger sent need not be UTF-8.
  return document.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

}  // namespace coldwright::server
