#include "options.hpp"

#include <CLI/CLI.hpp>

namespace coldwright::server {

std::variant<Options, int> read_options(int argc, char** argv) {
  Options options;
  double patience = 15;
  CLI::App app(
      "Delivers the built app of Coldwright to a browser, from this machine alone unless told otherwise.",
      "coldwright-server");
  app.add_option("--root", options.root, "folder of the built app")->required();
  auto* port = app.add_option("--port", options.port,
                              "port; 0 takes any free one (usually " + std::to_string(usual_port) +
                                  ", or the next free one after it)")
                   ->check(CLI::Range(0, 65535));
  app.add_option("--host", options.host, "numeric address to listen on; 0.0.0.0 lets other machines in")
      ->capture_default_str();
  app.add_option("--patience", patience, "seconds that a request may take to arrive")
      ->check(CLI::Range(0.1, 600.0))
      ->capture_default_str();
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    // exit() of the library only prints what it has to say; the program ends in main.
    return app.exit(error) == 0 ? 0 : 2;
  }
  options.port_asked = port->count() > 0;
  options.limits.patience = std::chrono::milliseconds(static_cast<long>(patience * 1000));
  return options;
}

}  // namespace coldwright::server
