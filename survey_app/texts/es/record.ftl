## Needs the review of a native speaker.

record-title = Mi registro
record-lead = Todo lo que está guardado sobre esta casa. Es suyo: revíselo, corríjalo, imprímalo o bórrelo.
record-paper-title = Registro de mantenimiento de un calentador de agua
record-paper-for = Para reclamar una garantía, para un seguro o para un comprador. Según las respuestas de la propia casa; nadie las ha comprobado.
    .crew = Para reclamar una garantía, para un seguro o para un comprador. Según las respuestas de la propia casa, y lo que el equipo de un día de servicio hizo y encontró, la última vez el { $day }. Las respuestas mismas nadie las ha comprobado.
record-synthetic = Demostración sintética: esta casa y todo lo que se dice de ella es inventado.
record-as-of = Al { $day }
record-address = Dirección
record-heater-now = El calentador en servicio
record-heater-before = El calentador anterior
record-kind = Tipo
record-size = Tanque
record-size-gallons = { $gallons } galones ({ $liters } litros)
record-installed = Instalado
record-installed-between = entre { $from } y { $to }
record-evidence = La fecha se basa en
record-warranty = Garantía
record-warranty-term = { $years } años
record-warranty-until = hasta { $when } más o menos
record-warranty-assumed = { $years } años, supuestos
record-removed = Retirado
record-cause = Por qué
record-place = Dónde está
record-symptoms = Lo que se avisó y no está resuelto
record-settled = Lo que se avisó y ya está resuelto
record-answer-settled = Dicho el { $day }: resuelto ({ $what })
record-unknown = no se sabe
record-acts = Trabajos hechos
record-no-acts = No hay ningún trabajo guardado. Si se lavó el tanque, o se revisó el ánodo o la válvula de alivio, póngalo en su respuesta.
record-act = Qué
record-when = Cuándo
record-found = Qué se encontró
record-due = Qué toca
record-answers = Sus respuestas
record-answer-line = Contestado el { $day }, por { $channel }
record-take-back = Retirar esta respuesta
record-take-back-sure = Esta respuesta ya no contará: la edad de su calentador y lo que toca se toman de las respuestas que quedan. No se borra. Usted la puede traer de vuelta aquí.
record-take-back-yes = Sí, retirarla
record-took-back = Retirada: la respuesta del { $day }. Ya no cuenta.
record-bring-back = Traer de vuelta esta respuesta
record-correct = Corregirlo: contestar de nuevo
record-correct-help = Su última respuesta aparece ya escrita. Cambie lo que esté mal y envíela. La respuesta anterior se guarda también, para que nada se pierda.
record-export = Todos los datos guardados (JSON)
record-print = Registro para imprimir (PDF)
record-calendar = Archivo de calendario de lo que toca
record-calendar-help = Ábralo en su teléfono. Pone cada fecha en su calendario, con un aviso dos semanas antes.
record-calendar-none = Todavía no toca nada en una fecha conocida, así que no hay archivo de calendario.
record-delete = Borrar mis datos
record-delete-help = Esto borra todas las respuestas sobre esta casa y todo lo que se calculó con ellas. No se puede deshacer. La dirección queda, porque está en la lista del condado. Las copias que el voluntario haya guardado antes no cambian con esto.
record-delete-sure = Sí, borrar todo sobre mi casa
record-deleted = Se borró: { $n ->
    [one] una respuesta
   *[other] { $n } respuestas
 } y todo lo que salió de { $n ->
    [one] ella
   *[other] ellas
 }.
record-nothing = No hay nada guardado sobre esta casa.

channel-form = formulario
channel-paper = papel
channel-import = hoja de cálculo

act-flush = Tanque lavado
act-anode-check = Ánodo revisado
act-anode-change = Ánodo cambiado
act-relief-valve-test = Válvula de alivio probada
act-part-replaced = Pieza cambiada

kind-gas-storage = Tanque de gas
kind-electric-storage = Tanque eléctrico
kind-heat-pump-storage = Tanque con bomba de calor
kind-tankless = Sin tanque
kind-unknown = no se sabe
place-garage = garaje
place-outside = afuera
place-basement = sótano
place-closet = clóset
place-upper-floor = piso de arriba
place-attic = ático
place-other = otro lugar
place-unknown = no se sabe
tri-yes = sí
tri-no = no
tri-not-sure = no se sabe
cause-failed = falló
cause-replaced-before-failing = se reemplazó antes de que fallara
cause-converted = se cambió a otro tipo
cause-unknown = no se sabe

due-flush = Calentador de agua: toca lavarlo
due-anode = Calentador de agua: que revisen el ánodo
due-relief-valve = Calentador de agua: toca probar la válvula de alivio
due-warranty = Calentador de agua: la garantía termina pronto
due-warranty-body = Haga que lo revisen antes de { $when }, y reclame lo que esté mal.

symptom-smell-of-gas = olor a gas
symptom-carbon-monoxide-alarm-or-illness = alarma de monóxido de carbono, o alguien se sintió mal
symptom-soot-or-a-bad-flue = hollín, marcas de quemado o tubo de humos en mal estado
symptom-water-far-too-hot = agua demasiado caliente
symptom-relief-valve-has-opened = la válvula de alivio se abrió
symptom-burner-safety-switch-has-tripped = se disparó el corte de seguridad del quemador
symptom-water-on-or-under-the-heater = agua sobre o debajo del calentador
symptom-relief-valve-drips = la válvula de alivio gotea
symptom-rusty-hot-water = agua caliente con óxido
symptom-rumbling-or-popping = ruidos sordos o chasquidos
symptom-hot-water-smells = el agua caliente huele mal
symptom-hot-water-runs-out-early = el agua caliente se acaba pronto
symptom-pilot-will-not-stay-lit = el piloto no se queda encendido
symptom-no-hot-water = no hay agua caliente
