use(tests/cli/base)
file(READ ${WORK}/garden.yaml text)
string(REPLACE "valves: 2" "valves: 40" text "${text}")
string(REGEX REPLACE "  - name: hedge.*" "" text "${text}")
foreach(zone RANGE 1 40)
  string(APPEND text "  - name: Beet am Fuß der Mauer, Nr. ${zone}
    valve: ${zone}
    area: ${zone} m2
    plants: {kind: ground covers, density: average}
    exposure: {factor: 0.5}
    soil: {texture: loam, slope: 0 %}
    emitters: {type: dripline, flow: 2.0 L/h, spacing: 30 cm, rows: 40 cm}
")
endforeach()
file(WRITE ${WORK}/garden.yaml "${text}")
