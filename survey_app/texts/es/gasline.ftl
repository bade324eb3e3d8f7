## Needs the review of a native speaker.

gasline-head = Con tanque o sin tanque: la línea de gas
gasline-lead =
    Esta revisión es para tubo de acero a baja presión. Un tubo flexible (amarillo o negro) va por la tabla de su fabricante. Algunas casas reciben gas a 2 psi, con un regulador pequeño adentro. En los dos casos pregunte a un contratista con licencia: esta revisión no sirve.
    Un calentador sin tanque quema de cuatro a cinco veces más gas que uno con tanque mientras trabaja. Por eso el tubo de gas puede ser muy delgado. Revise eso primero.
gasline-open = Revisar la línea de gas
gasline-tankless = Cuánto quema el calentador nuevo sin tanque, en Btu por hora
gasline-tankless-help = Está en su placa o en sus papeles. Para una casa entera son casi siempre de 150,000 a 199,000 (de 44 a 58 kW).
gasline-others = ¿Qué más quema gas en el mismo tubo?
gasline-others-help = No cuente el calentador viejo. Ese se va. ¿Nada más? No toque ninguno.
gasline-input = { $name }: Btu por hora según su placa
gasline-input-help = Déjelo vacío si no lo sabe.
gasline-furnace = Calefacción
gasline-range = Estufa u horno
gasline-dryer = Secadora de ropa
gasline-fireplace = Chimenea
gasline-pool = Calentador de piscina o spa
gasline-other = Otra cosa
gasline-gas = ¿Qué clase de gas?
gasline-gas-natural-gas = Gas natural, de la calle
gasline-gas-propane = Propano, de un tanque
gasline-pipe = El tubo más delgado que alimenta todo
gasline-branch = El tubo más delgado que alimenta solo el calentador
gasline-pipe-inch = { $size } pulgada
gasline-pipe-help = El tamaño es el nombre del tubo, no lo que usted mide por fuera. Primero el tubo que viene del medidor, luego el que se separa hacia el calentador. ¿No hay ramal? Ponga el mismo tamaño.
gasline-material = ¿De qué es el tubo?
gasline-material-steel = Acero, negro o galvanizado
gasline-material-other = Cobre, o un tubo amarillo o negro que se dobla
gasline-material-not-sure = No estoy seguro
gasline-not-sure = No estoy seguro
gasline-length = Pies de tubo desde el medidor hasta el aparato de gas más lejano (propano: desde el segundo regulador, junto a la casa)
gasline-drop = Presión que se puede perder en el camino, en pulgadas de agua
gasline-drop-help = 0.5 es lo usual. Algunos lugares piden 0.3.
gasline-heat = Calor en un pie cúbico de gas, en Btu
gasline-heat-help = Cerca de 1,000 en el gas natural. Está en la factura del gas. El propano tiene unos 2,500.
gasline-verdict-plausible = **Es posible.** Según la fórmula, el tubo que hay podría llevarlo. Haga que lo revisen antes de comprar.
gasline-verdict-needs-a-new-line = **Necesita una línea nueva.** Según la fórmula, el tubo que hay es muy delgado para todo a la vez.
gasline-verdict-cannot-say = **Todavía no podemos decirlo.** Falta algo.
gasline-load = Todo junto en este tubo: { $btu } Btu por hora ({ $kw } kW). Son { $cfh } pies cúbicos de gas por hora.
gasline-load-at-least = Todo junto en este tubo: por lo menos { $btu } Btu por hora ({ $kw } kW). Son { $cfh } pies cúbicos de gas por hora, o más.
gasline-carries = El tubo que alimenta todo: acero de { $pipe } pulgada lleva { $cfh } pies cúbicos por hora a lo largo de { $feet } pies ({ $meters } metros). Debe llevar { $load }.
gasline-branch-carries = El tubo propio del calentador: acero de { $pipe } pulgada lleva { $cfh } a lo largo de { $feet } pies ({ $meters } metros). Debe llevar { $load }.
gasline-tight = Eso deja poco de sobra. Muchas curvas podrían gastarlo.
gasline-missing-pipe = Falta: el tamaño del tubo que alimenta todo.
gasline-missing-branch = Falta: el tamaño del tubo propio del calentador.
gasline-missing-length = Falta: el largo del tubo.
gasline-missing-material = Falta: de qué es el tubo. Nuestra fórmula es para acero.
gasline-missing-other-pipe = Falta: la tabla de tamaños del fabricante para esta clase de tubo. Nuestra fórmula es para acero.
gasline-missing-appliance = Falta: cuánto queman algunos de los otros aparatos. Mire sus placas.
gasline-needed = A lo largo de { $feet } pies, todo junto necesita un tubo de acero de { $pipe } pulgada, y el calentador solo, uno de { $branch } pulgada.
gasline-needed-larger = Esta carga necesita un tubo de acero de más de 2 pulgadas. Pregunte a un contratista con licencia.
gasline-always =
    Una línea nueva necesita un permiso en casi todas partes. Necesita una prueba de presión antes de que entre gas.
    Planee con tiempo. Si empieza cuando el calentador viejo ya falló, puede esperar de una a dos semanas sin agua caliente.
    El medidor también debe ser bastante grande. Pregunte a la compañía de gas.
    Un calentador sin tanque también necesita su propio tubo de humos y casi siempre un enchufe eléctrico.
    Esto es una primera mirada, no un diseño. Deciden el código local y un contratista con licencia. Nunca trabaje usted mismo en una línea de gas.
gasline-source = La fórmula es la ecuación 4-1 del código de gas combustible (IFGC 402.4, como en NFPA 54).
gasline-bad-appliance = { $name }: el consumo debe ser mayor que 0 y a lo más { $most } Btu por hora. Léalo otra vez en la placa, o déjelo vacío.
gasline-bad-tankless = El calentador sin tanque: el consumo debe ser mayor que 0 y a lo más { $most } Btu por hora. Léalo otra vez en su placa.
gasline-bad-pipe = Aquí no hay un tubo de tamaño { $pipe }. Escoja uno de: { $sizes }.
gasline-bad-length = El largo debe ser mayor que 0 y a lo más { $most } pies. Mida a lo largo del tubo.
gasline-bad-drop = La presión perdida debe ser mayor que 0 y a lo más 10 pulgadas de agua. Use 0.5 si no la sabe.
gasline-bad-heat = El calor del gas debe ser de 100 a 4,000 Btu por pie cúbico. Use 1,000 para gas natural.
gasline-bad-figure = El valor { $name } debe ser un número mayor que cero. Escríbalo otra vez.
