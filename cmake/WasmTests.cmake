# Which of tests/*/*_test.cpp run against the WebAssembly build under node as well: all but those that need what
# a module has not. Both builds include this, the one to build them and the other to run them.
file(GLOB wasm_test_sources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/tests/*/*_test.cpp)
set(native_only
  # start the program or the server as a child process
  command_line_test bad_command_line_test server_test server_app_test server_fault_test chart_test chart_fault_test
  card_test live_test trace_command_test opening_command_line_test memory_command_test record_test record_fault_test
  # run the program's card through the system's PDF tools, or walk folders with <filesystem>, which libc++ has not
  # here; the demo calls themselves are compared in tests/wasm/same_answers.mjs
  demo_calls_test call_mutation_test words_test
  # of the bench, which is native
  judge_test
  # Boost's solvers of Debian 12 want threads and exceptions
  fluids_saturation_fit_test
  # count how often drawn machines and courses come out right: minutes natively, and the count isn't of the
  # platform; tests/wasm/same_answers.mjs compares what the same code answers
  proof_test charge_level_test diagnosis_memory_test tightness_verdict_test repair_population_test
  failure_rate_test record_request_test opening_procedures_test nitrogen_procedures_test
  evacuation_rise_charging_test memory_test proof_answer_test practice_seeds_test
  # ask use cases that tests/wasm/same_answers.mjs compares number by number and word by word between the two
  # builds; compiling and running these a second time takes minutes
  practice_test repair_entries_test tools_at_hand_test plan_test answer_json_test catalogue_test
  # drive the virtual cabinet, which is native only
  lab_correlations_test lab_refrigerant_test lab_balance_test lab_behaviour_test lab_faults_test lab_trace_test
  # replaces operator new to count; the count isn't of the platform
  fluids_no_allocation_test)
foreach(source ${wasm_test_sources})
  get_filename_component(name ${source} NAME_WE)
  if(name IN_LIST native_only)
    list(REMOVE_ITEM wasm_test_sources ${source})
  endif()
endforeach()
