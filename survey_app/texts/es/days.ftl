## Needs the review of a native speaker.

days-no-tank = Sin tanque: no hay tanque que lavar ni ánodo.
days-something-wrong = Algo anda mal ({ $what }). Eso es para un contratista con licencia ahora, no para un día de servicio.
days-look-first = Se avisó de algo ({ $what }). El contratista mira primero y decide.
days-flush-due = Toca lavarlo.
days-flush-fine = Todavía no toca lavarlo.
days-flush-never = Hasta donde se sabe, no se ha lavado en muchos años. Remover el sedimento viejo puede causar una fuga, o la válvula de drenaje puede no cerrar otra vez. Decide el contratista, y antes se avisa a la familia.
days-flush-unknown = Nadie sabe cuándo se lavó por última vez.
days-flush-no-age = No se sabe ni la edad ni el último lavado. El contratista mira primero.
days-anode-due = Toca revisar el ánodo.
days-anode-closing = El buen momento para el primer cambio del ánodo se acaba.
days-anode-fine = Todavía no toca el ánodo.
days-anode-late = El buen momento para el primer cambio del ánodo ya pasó. El tapón puede estar pegado. Decide el contratista.
days-anode-unknown = No se sabe la edad o la historia del ánodo. Decide el contratista.

days-pays-not = No está probado que el dinero se recupere: por lo que se sabe, una visita rinde unos { $mean } por casa y año (probablemente entre { $low } y { $high }).
days-pays-some = Por lo que se sabe, una visita rinde unos { $mean } por casa y año (probablemente entre { $low } y { $high }).
days-pays-why-flush = Lo que habla a favor de un lavado de todos modos: sale el sedimento, y alguien mira el calentador.
days-pays-why-anode = Lo que habla a favor de mirar el ánodo de todos modos: uno gastado se encuentra antes de que siga el acero.
days-pays-most = Ayuda más donde un calentador viejo nunca se cuidó y el contratista está de acuerdo, y menos en los primeros años de la garantía.
days-pays = Nadie ha medido cuánto más dura un tanque así, y no está probado que el dinero se recupere. Lo que habla a favor de todos modos: sale el sedimento, alguien mira el calentador, y no se pasa el buen momento del ánodo. Ayuda más donde un calentador viejo nunca se cuidó y el contratista está de acuerdo, y menos en los primeros años de la garantía.

days-caution-never-flushed = No se ha lavado en muchos años: puede empezar a gotear, o la válvula de drenaje puede no cerrar. Avise antes a la familia. Tenga a mano una tapa de manguera.
    .people = Hasta donde se sabe, el tanque no se ha lavado en muchos años. Al revolverlo puede empezar a gotear, o su válvula de drenaje puede no cerrar otra vez. El equipo mira primero y le pregunta antes de empezar. Usted puede decir que no.
days-caution-seized = El tapón del ánodo puede estar pegado. No lo fuerce. Avise antes a la familia.
    .people = El tapón del ánodo puede estar pegado. Entonces el equipo lo deja como está y le dice qué encontró.
days-caution-in-warranty = Todavía en garantía: siga las instrucciones del fabricante y deje una factura con fecha.
    .people = Su calentador puede estar todavía en garantía. Guarde la factura con fecha que deja el equipo.
days-caution-flush = Desconecte la bomba de recirculación, si hay una. Compruebe que la válvula de drenaje funciona antes de empezar. El agua puede quemar.
    .people = El agua que sale puede quemar. Aleje a los niños y a los animales del calentador y de la manguera.
days-caution-electric = Eléctrico: primero baje el { -breaker }, siempre. La corriente solo cuando el tanque esté lleno otra vez.
    .people = Calentador eléctrico: el equipo baja y sube el { -breaker }. No lo toque mientras trabajan.
days-caution-gas = Gas: primero el control en piloto, o apagado donde lo diga el fabricante: ningún quemador debe arrancar con el tanque vacío. ¿Huele a gas? { -gas-out }
    .people = Calentador de gas: el equipo baja y sube el quemador. ¿Huele a gas en algún momento? { -gas-out }
days-caution-hidden-rod = La varilla puede estar escondida bajo la salida caliente, y entonces hay que desarmar tubos. Pregunte antes del día.
    .people = En algunos calentadores el ánodo está debajo del tubo de agua caliente. Entonces el equipo le pregunta antes de desarmar tubos.
days-caution-relief-drips = La válvula de alivio gotea: mírela primero.
days-caution-rumble = Hace ruidos: espere mucho sedimento y un drenaje lento.

## Trabajos: cómo se llama cada uno, el título de su aviso, y qué se le dice a la casa que se hace.

job-flush = Lavado
    .notice = Venimos a lavar su calentador de agua
    .visit = se lava su tanque
job-anode = Ánodo
    .notice = Venimos a revisar el ánodo de su calentador de agua
    .visit = se revisa su ánodo
job-flush-and-anode = Lavado y ánodo
    .notice = Venimos a lavar su calentador de agua y a revisar su ánodo
    .visit = se lava su tanque y se revisa su ánodo

found-white-grit = arenilla blanca
found-soft-jelly = gelatina blanda
found-drain-valve-will-not-close = la válvula de drenaje no cierra
found-anode-spent = ánodo gastado
found-anode-fine = ánodo bien
found-anode-changed = ánodo cambiado
found-anode-would-not-come-out = el ánodo no salió
found-rust-or-flakes = óxido o escamas
found-leak-found = hay una fuga

paper-synthetic = Demostración sintética: cada casa y persona de este papel es inventada.
paper-day-sheet = Hoja del día
paper-crew = Equipo { $n }
paper-homes = { $n ->
    [one] una casa
   *[other] { $n } casas
 }
paper-start = Empieza { $when }, regreso antes de { $until }
paper-lunch = Descanso de { $minutes } minutos para comer, desde { $when }
paper-tank = { $kind }, { $size }, { $age }
paper-gallons = { $gallons } gal ({ $liters } L)
paper-size-unknown = tamaño no conocido
paper-age = unos { $years } años
paper-age-unknown = edad no conocida
paper-place = Está en: { $place }
paper-contact = Contacto: { $contact }
paper-contact-kept = Teléfono o correo: pregunte al voluntario
paper-no-contact = No hay teléfono ni correo guardado
paper-remark = Dijeron: { $remark }
paper-know = Sepa antes de empezar
paper-note = Anote
paper-note-outcome = hecho    no hecho    nadie en casa
paper-note-why = Si no, por qué:
paper-note-more = Otro:
paper-crew-law = Este trabajo lo hace un contratista con licencia. El código local y las instrucciones del fabricante van antes que esta hoja. ¿Huele a gas? { -gas-out } ¿Se abrió la válvula de alivio? Pare el trabajo: primero busque la causa.

paper-notice-when = { $day }, entre { $from } y { $to }
paper-notice-dear = A la familia de { $address }
paper-notice-why = Usted dijo que participaría. El equipo está en su calle ese día, así que cuesta menos para cada casa.
paper-notice-who = Quién viene: { $who }, contratista. Pida ver la licencia.
paper-notice-who-open = Quién viene: pregunte al voluntario el nombre del contratista.
paper-notice-price = Precio: { $usd } por esta visita, según lo planeado. Pídalo por escrito antes del trabajo.
paper-notice-price-open = Precio: pídalo por escrito antes del trabajo.
paper-notice-call = Llame a { $who }.
paper-notice-ready-head = Por favor tenga listo
paper-notice-ready = Alguien en casa que pueda decir sí o no.
    Paso libre hasta el calentador, unos 3 pies (1 metro) alrededor.
    Las mascotas encerradas, y los carros fuera del garaje si el calentador está ahí.
    Sin agua caliente por unas dos horas.
paper-notice-before-head = Bueno saber
paper-notice-cannot = ¿No puede estar? Avísenos pronto, para que un vecino de la lista de espera tome su lugar.
paper-notice-contract = El trabajo es entre usted y el contratista. La asociación no lo hace ni lo garantiza. Pida por escrito el número de licencia, el seguro y el precio.
paper-notice-by = Los voluntarios de su vecindario

paper-calls = Casas a las que llamar
paper-calls-why = Sin confirmar, o el contratista debe decidir antes. Pregunte y marque.
paper-call-line = sí    no    no contesta

paper-few = Tres casas más traerían al equipo
paper-few-title = { $missing ->
    [one] Una casa más
   *[other] { $missing } casas más
 } en sus calles llenarían un día
paper-few-body = Un equipo vendría a { $streets } el { $day } si { $missing ->
    [one] se uniera una casa más
   *[other] se unieran { $missing } casas más
 }. Entonces cada casa paga menos que sola. Unirse es decir sí a la visita. El contrato es entre usted y el contratista.
paper-few-how = Para unirse, conteste la encuesta con el código de su carta, o dígaselo a un voluntario.

ics-visit = Calentador de agua: viene el equipo
ics-visit-body = { $address }, entre { $from } y { $to }.

visit-head = Hay un equipo planeado para usted
visit-when = **{ $day }, entre { $from } y { $to }**: { $what }.
visit-asked = Por favor diga si habrá alguien en casa.
visit-yes = Habrá alguien en casa
visit-no = No podemos: den nuestro lugar a un vecino
visit-confirmed = Usted dijo que habrá alguien en casa. Gracias.
visit-no-sure = Entonces un vecino puede recibir su lugar, y eso no se puede deshacer aquí. Para volver después, pregunte al voluntario.
visit-no-yes = Sí, dejar nuestro lugar
visit-gone = Gracias por avisar. Su lugar pasa a un vecino que espera.
visit-calendar = Ponerlo en mi calendario
