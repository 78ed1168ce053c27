use(examples/terrace)
change(garden.yaml [=[volume: 20 L, diameter: 32 cm, canopy: 45 cm]=] [=[volume: 0.4 L, diameter: 10 cm, canopy: 60 cm]=])
